// The page's colours and its panel as they were chosen before in this browser, so that they are so from the first picture on. The program
// sets them.

/** Brings back what was chosen before. */
export function theme() {
  for (const [key, mark, ...names] of [["shimsheet:colours", "theme", "light", "dark", "sun"],
    ["shimsheet:panel", "panel", "narrow", "hidden"]]) {
    let name = "";
    try { name = localStorage.getItem(key) ?? ""; } catch { /* as it is */ }
    if (!names.includes(name)) continue;
    document.documentElement.dataset[mark] = name;
    for (const b of document.querySelectorAll(`[role=menuitemradio][data-${mark}-set]`))
      b.setAttribute("aria-checked", String(b.getAttribute(`data-${mark}-set`) === name));
  }
}
