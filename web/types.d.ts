// What the scripts of the page know of each other and of the browser beyond its standard declarations: `make types` checks them against this.

declare module "go:wasm_exec";
/** The words of the scripts; cmd/pagebuild holds every name that is used against the catalogue. */
declare module "texts";

/** An element as the page's dialogs, buttons and fields are used: each has some of these. */
interface Field extends HTMLElement {
  value: string;
  type: string;
  checked: boolean;
  disabled: boolean;
  open: boolean;
  files: FileList | null;
  selectionStart: number | null;
  selectionEnd: number | null;
  select(): void;
  setSelectionRange(from: number | null, to: number | null): void;
  show(): void;
  showModal(): void;
  close(value?: string): void;
  selectedOptions: HTMLCollectionOf<HTMLOptionElement>;
  options: HTMLOptionsCollection;
  _own?: string;
}

declare function showSaveFilePicker(options: object): Promise<any>;

interface Document {
  getElementById(id: string): Field | null;
}
interface ParentNode {
  querySelector(selectors: string): Field | null;
  querySelectorAll(selectors: string): NodeListOf<Field>;
}
interface Element {
  closest(selectors: string): Field | null;
}
/** The drawing library's element, as far as it is used here: web/vendor/regular-table. */
interface RegularTable extends HTMLElement {
  setDataListener(data: (x0: number, y0: number, x1: number, y1: number) => Promise<object>, options: object): void;
  addStyleListener(style: () => void): void;
  getMeta(cell: Element): CellMeta | undefined;
  draw(options?: object): Promise<void>;
  scrollToCell(x: number, y: number, columns: number, rows: number): Promise<void>;
  _column_sizes: { override: object, indices: number[], auto: number[], row_height: number };
}
interface CellMeta {
  type: string;
  x: number;
  y: number;
  x0: number;
  y0: number;
  row_header_x: number;
  column_header_y: number;
  size_key: number;
  user: string;
}

/** A column of the sheet at hand, as the program describes it. */
interface SheetColumn {
  name: string;
  group: string;
  line1: string;
  line2: string;
  unit: string;
  width: number;
  number: boolean;
  result: boolean;
  help: string;
}

/** How the sheet at hand stands, as the program answers an operation. */
interface State {
  [member: string]: any;
  height: number;
  row: number;
  col: number;
  sel: [number, number, number, number];
}

/** An event on an element of the page. */
interface On extends Event {
  readonly target: Field;
}

declare var packing: any, Go: any, shimsheet: any, shimsheetProgress: any, shimsheetPiece: any, shimsheetView: any;
