// The sheet on the screen: regular-table draws, the Go program says what stands where and what a key does; here is only the glue.
import "./vendor/regular-table/src/ts/regular-table.ts";
import * as T from "texts";

const HEAD = 3; // header lines: group, two lines of the name
const ROWNO = 58; // px at the usual text size
const BLANK = "\u00a0"; // an empty header text would be merged into the corner

function setClass(el, s) {
  if (el._own === s) return;
  if (el._own) el.classList.remove(...el._own.split(" "));
  if (s) el.classList.add(...s.split(" "));
  el._own = s;
}

function setAttr(el, name, value) {
  if (value === null) el.removeAttribute(name);
  else if (el.getAttribute(name) !== value) el.setAttribute(name, value);
}

const markClass = { e: "perr", w: "pwarn", n: "", "-": "", r: "result", b: "result", 0: "v0", 1: "v1", 2: "v2", 3: "v3" };

/** Whether a cell lies in one of the ranges beside the selection: r0, c0, r1, c1 of each. */
function also(more, y, x) {
  for (let i = 0; i < more.length; i += 4) if (y >= more[i] && x >= more[i + 1] && y <= more[i + 2] && x <= more[i + 3]) return true;
  return false;
}

export class SheetView {
  /** @type {State} what the program said last */
  state = null;
  /** @type {SheetColumn[]} */
  columns = [];
  frozen = 0; // columns that stay in sight
  firstRow = 2; // the number of the first row
  heads = HEAD;
  open = false; // a cell is

  /**
   * @param {HTMLElement} host where the table goes
   * @param {HTMLTextAreaElement} editor laid over the open cell
   * @param {(op: string, ...args: any[]) => string} call the Go program
   * @param {(op: string, ...args: any[]) => any} act does an operation, brings the page up to it and gives the state
   * @param {(x: number, y: number) => void} menu opens the menu of a cell there
   * @param {() => void} edit opens the cell under the cursor
   */
  constructor(host, editor, call, act, menu, edit) {
    this.host = host;
    this.editor = editor;
    this.call = call;
    this.act = act;
    this.showMenu = menu;
    this.edit = edit;
    this.el = /** @type {RegularTable} */ (document.createElement("regular-table"));
    host.prepend(this.el);
    this.el.removeAttribute("tabindex");
    this.table = /** @type {HTMLTableElement} */ (/** @type {Element} */ (this.el.querySelector("table")));
    this.table.id = "grid";
    this.table.tabIndex = 0;
    setAttr(this.table, "role", "grid");
    setAttr(this.table, "aria-multiselectable", "true");
    this.el.setDataListener((x0, y0, x1, y1) => this.data(x0, y0, x1, y1), { virtual_mode: "both", column_classes: true });
    this.el.addStyleListener(() => this.restyle());
    this.listen();
    new ResizeObserver(() => {
      if (!this.state?.columns || !host.clientWidth) return;
      if ((host.clientWidth < 700) !== this.narrow || this.narrow) this.relayout();
      this.draw();
    }).observe(host);
  }

  /** Takes the columns as the program describes them. */
  relayout() {
    const l = JSON.parse(this.call("layout"));
    this.columns = l.columns;
    this.firstRow = l.firstRow;
    this.frozen = l.frozen;
    this.heads = this.columns.some((c) => c.group) ? HEAD : 1;
    const style = getComputedStyle(document.documentElement);
    this.row = parseFloat(style.getPropertyValue("--row")); // px; both differ between the themes
    const scale = parseFloat(style.getPropertyValue("--text")) / 15;
    for (const c of this.columns) c.width = Math.round(c.width * scale);
    // what stays in sight leaves room for the rest
    const room = this.host.clientWidth;
    this.narrow = room > 0 && room < 700;
    if (this.narrow) for (const c of this.columns.slice(0, this.frozen)) c.width = Math.min(c.width, Math.round(room * 0.36));
    this.scale = scale;
    this.rowno = ROWNO * scale;
    const widths = [this.rowno, ...this.columns.map((c) => c.width)];
    // All widths are known beforehand, so that scrolling to a column is exact and nothing moves while scrolling.
    const sizes = this.el._column_sizes;
    sizes.override = { ...widths };
    sizes.indices = widths;
    sizes.auto = [];
    sizes.row_height = this.row;
  }

  async data(x0, y0, x1, y1) {
    const f = this.frozen;
    const response = {
      num_rows: this.state ? this.state.height : 0, num_columns: Math.max(this.columns.length - f, 0), row_height: this.row,
      num_row_headers: 1 + f, num_column_headers: this.heads, merge_headers: "column", data: [], metadata: [], row_headers: [],
        column_headers: [],
    };
    if (!this.state || x1 <= x0 && y1 <= y0) return response;
    const cells = (a, b) => this.call("viewport", a, y0, b, y1).split("\x1e");
    const head = f ? cells(0, f) : [];
    const rows = cells(x0 + f, x1 + f);
    const n = Math.min(y1, response.num_rows) - y0;
    const w = Math.min(x1, response.num_columns) - x0;
    this.headMarks = [];
    this.y0 = y0;
    for (let x = 0; x < w; x++) {
      response.data.push(new Array(n));
      response.metadata.push(new Array(n));
      const c = this.columns[x0 + x + f];
      const last = c.line2 + (c.unit ? " [" + c.unit + "]" : "");
      response.column_headers.push(this.heads === 1 ? [last] : [c.group || BLANK, c.line1 || BLANK, last]);
    }
    const numbers = this.state.view ? JSON.parse(this.call("rowNumbers", y0, y0 + n)).rows : null;
    for (let y = 0; y < n; y++) {
      const names = [String(numbers ? numbers[y] : this.firstRow + y0 + y)];
      if (f) {
        const t = head[y].split("\x1f")[0];
        this.headMarks.push(t[0]);
        names.push(t.slice(1));
      }
      response.row_headers.push(names);
      const row = rows[y].split("\x1f");
      for (let x = 0; x < w; x++) {
        response.data[x][y] = row[x].slice(1);
        response.metadata[x][y] = row[x][0];
      }
    }
    return response;
  }

  /** Redraws all cells in sight. */
  draw() {
    return this.el.draw({ invalid_viewport: true });
  }

  /** Brings classes, roles and the selection of the cells in sight up to the state, without fetching anything. */
  restyle(as) {
    const s = this.state;
    if (!s) return;
    const [r0, c0, r1, c1] = Array.isArray(as) ? as : s.sel;
    const f = this.frozen;
    const table = this.table;
    setAttr(table, "aria-rowcount", String(s.height + this.heads));
    setAttr(table, "aria-colcount", String(this.columns.length + 1));
    const many = r0 !== r1 || c0 !== c1;
    let current = null;
    for (const tr of table.tBodies[0].rows) {
      let y = -1;
      for (const cell of tr.cells) {
        const m = this.el.getMeta(cell);
        if (!m) continue;
        y = m.y;
        if (m.type === "row_header" && m.row_header_x === 0) {
          setClass(cell, "rowno");
          setAttr(cell, "aria-colindex", "1");
          setAttr(cell, "scope", "row");
          continue;
        }
        const c = m.type === "row_header" ? m.row_header_x - 1 : m.x + f;
        const mark = m.type === "row_header" ? this.headMarks?.[m.y - this.y0] ?? "-" : m.user ?? "-";
        const col = this.columns[c];
        if (!col) continue;
        let cls = markClass[mark] ?? "";
        if (col.number) cls += " num";
        if (c < f) cls += " frozen";
        const selected = m.y >= r0 && m.y <= r1 && c >= c0 && c <= c1;
        const here = m.y === s.row && c === s.col;
        if (selected && many) cls += " sel";
        else if (s.more && also(s.more, m.y, c)) cls += " also";
        if (here) cls += " cur";
        setClass(cell, cls.trim());
        setAttr(cell, "aria-colindex", String(c + 2));
        setAttr(cell, "aria-selected", selected || s.more && also(s.more, m.y, c) ? "true" : "false");
        setAttr(cell, "aria-readonly", col.result ? "true" : null);
        setAttr(cell, "aria-invalid", mark === "e" ? "true" : null);
        setAttr(cell, "aria-describedby", here && (mark === "e" || mark === "w") ? "cell-wrong" : null);
        const id = `cell-${m.y}-${c}`;
        if (cell.id !== id) cell.id = id;
        if (here) current = cell;
      }
      if (y >= 0) {
        setAttr(tr, "aria-rowindex", String(y + this.heads + 1));
        setClass(tr, y >= r0 && y <= r1 ? "hot" : "");
      }
    }
    for (const tr of table.tHead.rows) {
      const leaf = tr.sectionRowIndex === this.heads - 1;
      for (const cell of tr.cells) {
        const m = this.el.getMeta(cell);
        if (!m) continue;
        if (m.type === "corner") {
          setClass(cell, m.row_header_x > 0 || !leaf ? "frozen" : "");
          if (leaf && cell.firstChild) {
            const text = m.row_header_x === 0 ? T.grid.row : this.columns[0]?.name ?? "";
            if (cell.firstChild.textContent !== text) cell.firstChild.textContent = text;
          }
          else if (!leaf && cell.textContent.trim()) cell.replaceChildren(BLANK); // a cell that was used for another line before
          setAttr(cell, "aria-label", leaf ? null : T.grid.heading);
          continue;
        }
        const c = m.x + f;
        const col = this.columns[c];
        if (!col) continue;
        setAttr(cell, "aria-label", leaf ? col.name + (col.unit ? ", " + col.unit : "") : cell.textContent.trim() ? null : T.grid.heading);
        setAttr(cell, "scope", leaf ? "col" : "colgroup");
        setAttr(cell, "title", leaf ? col.name + (col.help ? ": " + col.help : "") : cell.textContent.trim() || null);
        let cls = col.result ? "result" : "";
        if (leaf && col.number) cls += " num";
        if (leaf && c >= c0 && c <= c1) cls += " hot";
        setClass(cell, cls.trim());
      }
    }
    setAttr(table, "aria-activedescendant", current ? current.id : null);
    this.corner(r1, c1);
    if (this.open) this.place();
  }

  /** Puts the square for filling at the corner of the selection. */
  corner(r1, c1) {
    const cell = this.open || this.state.sel[2] >= this.state.rows + 60 ? null : this.cell(r1, c1);
    this.handle.hidden = !cell || this.columns[c1]?.result;
    if (this.handle.hidden) return;
    const a = cell.getBoundingClientRect(), b = this.host.getBoundingClientRect();
    this.handle.style.left = a.right - b.left - 5 + "px";
    this.handle.style.top = a.bottom - b.top - 5 + "px";
    this.handle.hidden = a.bottom > b.bottom || a.right > b.right;
  }

  /** Scrolls so that a cell is in sight. */
  reveal(row, col) {
    const el = this.el;
    const height = el.clientHeight - this.heads * this.row;
    const top = row * this.row;
    if (top < el.scrollTop) el.scrollTop = top;
    else if (top + this.row > el.scrollTop + height) el.scrollTop = top + this.row - height;
    if (col < this.frozen) return;
    let left = 0;
    let fixed = this.rowno;
    for (let c = 0; c < this.frozen; c++) fixed += this.columns[c].width;
    for (let c = this.frozen; c < col; c++) left += this.columns[c].width;
    const width = this.columns[col]?.width ?? 0;
    const room = el.clientWidth - fixed;
    if (left < el.scrollLeft || width > room) el.scrollLeft = left;
    else if (left + width > el.scrollLeft + room) el.scrollLeft = left + width - room;
  }

  /** Rows of one page, for PageUp and PageDown. */
  page() {
    return Math.max(1, Math.floor(this.el.clientHeight / this.row) - this.heads - 1);
  }

  focus() {
    this.table.focus({ preventScroll: true });
  }

  cell(row, col) {
    return this.table.querySelector(`#cell-${row}-${col}`);
  }

  /** Lays the editor over a cell, with a text in it. typed: a key is about to bring its letter. */
  openEditor(text, row, col, typed) {
    this.open = true;
    this.at = [row, col];
    this.handle.hidden = true;
    this.editor.hidden = false;
    this.editor.value = text;
    this.place();
    this.editor.focus({ preventScroll: true });
    if (!typed) this.editor.setSelectionRange(text.length, text.length);
  }

  /** Lays the editor over its cell. */
  place() {
    const [r, c] = this.at;
    const cell = this.cell(r, c);
    const e = this.editor;
    if (!cell) return; // scrolled out of sight: stays where it was
    const a = cell.getBoundingClientRect();
    const b = this.host.getBoundingClientRect();
    const lines = e.value.split("\n");
    const longest = Math.max(...lines.map((l) => l.length));
    const room = b.right - a.left - 8;
    const width = Math.min(Math.max(a.width, longest * 9 + 30), Math.max(room, 160));
    e.style.left = Math.min(a.left - b.left, b.width - width - 4) - 1 + "px";
    e.style.top = a.top - b.top - 1 + "px";
    e.style.width = width + 2 + "px";
    e.style.height = 20 * Math.min(lines.length, 8) + this.row - 19 + "px";
    const under = document.getElementById("under-editor");
    const below = a.bottom - b.top + 2;
    under.style.left = Math.min(a.left - b.left, Math.max(b.width - under.offsetWidth - 2, 0)) - 1 + "px";
    const high = under.offsetHeight;
    under.style.top = (below + high > b.height && a.top - b.top > high ? a.top - b.top - high - 2 : a.top - b.top + e.offsetHeight) + "px";
  }

  closeEditor() {
    this.open = false;
    document.getElementById("under-editor").hidden = true;
    this.editor.hidden = true;
    this.editor.value = "";
  }

  listen() {
    const { table, el, host } = this;
    host.addEventListener("focusin", () => host.classList.add("in"));
    host.addEventListener("focusout", () => host.classList.remove("in"));
    let drag = false;
    el.addEventListener("pointerdown", (/** @type {On & PointerEvent} */ e) => {
      if (e.button !== 0 || e.pointerType === "touch" || e.target.classList?.contains("rt-column-resize")) return;
      if (this.press(e)) {
        drag = true;
        e.preventDefault();
        this.focus();
      }
    });
    el.addEventListener("click", (e) => {
      if (e.pointerType === "touch" && this.press(e)) this.focus();
    });
    addEventListener("pointermove", (e) => {
      if (!drag || !(e.buttons & 1)) { drag = false; return; }
      const b = el.getBoundingClientRect();
      if (e.clientY > b.bottom - 14) el.scrollTop += this.row;
      else if (e.clientY < b.top + this.heads * this.row) el.scrollTop -= this.row;
      if (e.clientX > b.right - 14) el.scrollLeft += 60;
      else if (e.clientX < b.left + this.rowno) el.scrollLeft -= 60;
      const p = this.under(document.elementFromPoint(e.clientX, e.clientY));
      if (p && p.row >= 0 && p.col >= 0 && (p.row !== this.state.row || p.col !== this.state.col)) this.act("go", p.row, p.col, true);
    });
    addEventListener("pointerup", (e) => {
      drag = false;
      if (filling) {
        const [r0, c0, r1, c1] = filling;
        filling = null;
        handle.classList.remove("on");
        if (String([r0, c0, r1, c1]) !== String(this.state.sel)) this.act("fillTo", r0, c0, r1, c1, !e.ctrlKey && !e.metaKey);
        this.restyle();
      }
      // a column was drawn to another width
      const o = this.el._column_sizes.override;
      for (let c = 0; c < this.columns.length; c++) {
        const px = Math.round(o[c + 1]);
        if (px > 0 && px !== this.columns[c].width) {
          this.columns[c].width = px;
          this.call("width", c, Math.round(px / this.scale));
        }
      }
    });

    // The small square at the corner of the selection: drawing it over cells fills them from the selection.
    let filling = null;
    const handle = this.handle = document.createElement("div");
    handle.id = "fillhandle";
    handle.title = T.grid.drawToFillANumber;
    handle.hidden = true;
    host.append(handle);
    handle.addEventListener("pointerdown", (e) => {
      e.preventDefault();
      handle.setPointerCapture(e.pointerId);
      handle.classList.add("on");
      filling = [...this.state.sel];
    });
    handle.addEventListener("pointermove", (e) => {
      if (!filling) return;
      const b = el.getBoundingClientRect();
      if (e.clientY > b.bottom - 14) el.scrollTop += this.row;
      const p = this.under(document.elementsFromPoint(e.clientX, e.clientY).find((x) => x !== handle && table.contains(x)));
      if (!p || p.row < 0 || p.col < 0) return;
      const [r0, c0, r1, c1] = this.state.sel;
      const down = Math.max(p.row - r1, r0 - p.row, 0), across = Math.max(p.col - c1, c0 - p.col, 0);
      filling = down >= across ? [Math.min(r0, p.row), c0, Math.max(r1, p.row), c1] : [r0, Math.min(c0, p.col), r1, Math.max(c1, p.col)];
      this.restyle(filling);
    });
    handle.addEventListener("dblclick", (e) => this.act("fillAlong", !e.ctrlKey && !e.metaKey));
    el.addEventListener("contextmenu", (e) => this.menu(e));
    table.addEventListener("keydown", (e) => { if (e.key === "ContextMenu" || e.key === "F10" && e.shiftKey) this.menu(e); });
    el.addEventListener("dblclick", (e) => {
      const p = this.under(e.target);
      if (p && p.row >= 0 && p.col >= 0) this.edit();
    });
  }

  /** The place under an element: row −1 for a header, column −1 for a row number. */
  under(target) {
    const cell = target?.closest?.("td, th");
    if (!cell || !this.table.contains(cell)) return null;
    const m = this.el.getMeta(cell);
    if (!m) return null;
    if (m.type === "body") return { row: m.y, col: m.x + this.frozen };
    if (m.type === "row_header") return { row: m.y, col: m.row_header_x - 1 };
    if (cell.parentNode.sectionRowIndex !== this.heads - 1) return null;
    if (m.type === "column_header") return { row: -1, col: m.x + this.frozen };
    if (m.type === "corner") return { row: -1, col: m.row_header_x - 1 };
    return null;
  }

  /** Opens the menu of cells where the pointer is, on the selection if the pointer is on it; by a key at the cell the cursor is in. */
  menu(e) {
    e.preventDefault();
    const p = e.type === "contextmenu" ? this.under(e.target) : null;
    const [r0, c0, r1, c1] = this.state.sel;
    if (p && (p.row >= 0 && (p.row < r0 || p.row > r1) || p.col >= 0 && (p.col < c0 || p.col > c1)) && !this.press(e)) return;
    const b = this.cell(this.state.row, this.state.col)?.getBoundingClientRect();
    this.showMenu(p ? e.clientX : b?.left ?? 0, p ? e.clientY : b?.bottom ?? 0);
  }

  press(e) {
    const p = this.under(e.target);
    if (!p) return false;
    const last = Math.max(this.state.rows - 1, 0);
    if (p.row < 0 && p.col < 0) this.act("selectAll");
    else if (p.row < 0) this.act("select", 0, p.col, last, p.col);
    else if (p.col < 0) this.act("select", e.shiftKey ? Math.min(p.row, this.state.sel[0]) : p.row, 0,
      e.shiftKey ? Math.max(p.row, this.state.sel[2]) : p.row, this.columns.length - 1);
    else if ((e.ctrlKey || e.metaKey) && !e.shiftKey) this.act("also", p.row, p.col);
    else this.act("go", p.row, p.col, e.shiftKey);
    return true;
  }
}
