// The page's colours: as the computer says, or one chosen here and remembered for this browser, not for the job.
import { check } from "./menu.js";

const key = "shimsheet:colours";

function remembered() {
  try { return localStorage.getItem(key) ?? ""; } catch { return ""; }
}

/** Sets the colours: "" as the computer, light, dark, sun. changed is told when row heights may differ. */
export function setTheme(name, changed) {
  if (name) document.documentElement.dataset.theme = name;
  else delete document.documentElement.dataset.theme;
  try {
    if (name) localStorage.setItem(key, name);
    else localStorage.removeItem(key);
  } catch { /* then it lasts until the page is closed */ }
  check("theme-set", name);
  changed?.();
}

const panelKey = "shimsheet:panel";

/** Shows the panel at the side: "" wide, narrow, hidden. Remembered like the colours. */
export function setPanel(name) {
  if (name) document.body.dataset.panel = name;
  else delete document.body.dataset.panel;
  try {
    if (name) localStorage.setItem(panelKey, name);
    else localStorage.removeItem(panelKey);
  } catch { /* then it lasts until the page is closed */ }
  check("panel-set", name);
}

/** Brings back what was chosen before. */
export function theme() {
  let panel = "";
  try { panel = localStorage.getItem(panelKey) ?? ""; } catch { /* as it is */ }
  if (["narrow", "hidden"].includes(panel)) {
    document.body.dataset.panel = panel;
    check("panel-set", panel);
  }
  const name = remembered();
  if (["light", "dark", "sun"].includes(name)) {
    document.documentElement.dataset.theme = name;
    check("theme-set", name);
  }
}
