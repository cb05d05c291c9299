// Menus: a button with data-menu opens the element of that id under it; arrows walk, Escape closes, a choice closes.

let openMenu = null;
let opener = null;
let before = null; // what had the focus when the mouse went to the opener

const items = (menu) => [...menu.querySelectorAll("[role^=menuitem]:not(:disabled)")].filter((b) => !b.hidden);

export function closeMenu(back) {
  if (!openMenu) return;
  openMenu.hidden = true;
  opener.setAttribute("aria-expanded", "false");
  if (back) (before?.isConnected && before.checkVisibility?.() !== false ? before : opener).focus({ preventScroll: true });
  openMenu = opener = before = null;
}

/** Opens a button's menu at a place in the window, as a right click does; back is what has the focus afterwards. */
export function menuAt(button, x, y, back) {
  show(button, x, y);
  before = back;
}

function show(button, x, y) {
  closeMenu(false);
  openMenu = document.getElementById(button.dataset.menu);
  opener = button;
  openMenu.hidden = false;
  opener.setAttribute("aria-expanded", "true");
  const b = button.getBoundingClientRect();
  openMenu.style.left = Math.max(4, Math.min(x ?? b.left, innerWidth - openMenu.offsetWidth - 4)) + "px";
  openMenu.style.top = Math.min(y ?? b.bottom + 2, Math.max(4, innerHeight - openMenu.offsetHeight - 4)) + "px";
  (openMenu.querySelector("[aria-checked=true]") ?? items(openMenu)[0])?.focus();
}

/** Listens for all menus of the page. picked is called after a choice closed one. */
export function menus() {
  let was = null;
  document.addEventListener("pointerdown", (/** @type {On} */ e) => {
    const a = document.activeElement;
    was = e.target.closest("[data-menu]") && a !== document.body && !openMenu
      ? (a.closest("#sheet") ? document.querySelector("#sheet table") : a) : null;
  }, true);
  document.addEventListener("click", (/** @type {On} */ e) => {
    const button = e.target.closest("[data-menu]");
    if (button) {
      if (opener === button) closeMenu(true);
      else {
        show(button);
        before = was;
        was = null;
      }
      return;
    }
    const item = e.target.closest("[role^=menuitem]");
    if (item && openMenu?.contains(item)) closeMenu(true);
    else if (openMenu && !openMenu.contains(e.target)) closeMenu(false);
  }, true);
  document.addEventListener("keydown", (/** @type {On & KeyboardEvent} */ e) => {
    const button = e.target.closest?.("[data-menu]");
    if (button && !openMenu && (e.key === "ArrowDown" || e.key === "ArrowUp")) {
      e.preventDefault();
      show(button);
      return;
    }
    if (!openMenu) return;
    const list = items(openMenu);
    const at = list.indexOf(document.activeElement);
    const to = { ArrowDown: at + 1, ArrowUp: at < 0 ? -1 : at - 1, Home: 0, End: -1 }[e.key];
    if (to !== undefined) {
      e.preventDefault();
      e.stopPropagation();
      list[(to + list.length) % list.length]?.focus();
    } else if (e.key === "Escape" || e.key === "Tab") {
      if (e.key === "Escape") e.preventDefault();
      e.stopPropagation();
      closeMenu(true);
    } else if (e.key.length === 1 && !e.ctrlKey && !e.metaKey && e.key !== " ") {
      e.preventDefault();
      const k = e.key.toLowerCase();
      const next = [...list.slice(at + 1), ...list.slice(0, at + 1)].find((b) => b.textContent.trim().toLowerCase().startsWith(k));
      next?.focus();
    }
  }, true);
  addEventListener("resize", () => closeMenu(false));
}

/** Marks which of a group of radio items holds. */
export function check(attribute, value) {
  for (const b of document.querySelectorAll(`[role=menuitemradio][data-${attribute}]`))
    b.setAttribute("aria-checked", String(b.getAttribute("data-" + attribute) === value));
}
