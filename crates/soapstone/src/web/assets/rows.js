// Puts fresh rows into a table that is being typed into: what the reader is typing stays, everything else follows.

/** Whether something in a place is being typed, or was refused and is still to be mended. @param {Element} place */
export function isTyping(place) {
  const own = "input, textarea, select";
  const fields = /** @type {HTMLInputElement[]} */ ([...(place.matches(own) ? [place] : place.querySelectorAll(own))]);
  return fields.some((field) => {
    if (field.type === "hidden") return false;
    if (field === document.activeElement || field.dataset.refused !== undefined) return true;
    return field.type !== "radio" && "defaultValue" in field && field.value !== field.defaultValue;
  });
}

/** @param {HTMLElement} old @param {HTMLElement} part */
export function putSheet(old, part) {
  if (old.dataset.of !== part.dataset.of || !isTyping(old)) {
    keepOpen(old, part);
    old.replaceWith(part);
    return;
  }
  const fresh = rows(part);
  for (const [name, row] of rows(old)) if (!fresh.has(name)) row.remove();
  const known = rows(old);
  /** @type {Element | null} */
  let before = null;
  for (const [name, row] of fresh) {
    const own = known.get(name);
    if (own) before = putRow(own, row);
    else if (before) before = (before.after(row), row);
  }
}

/** @param {Element} part @returns {Map<string, HTMLElement>} */
function rows(part) {
  const all = /** @type {NodeListOf<HTMLElement>} */ (part.querySelectorAll("[data-row]"));
  return new Map([...all].map((row) => [row.dataset.row ?? "", row]));
}

/** @param {HTMLElement} old @param {HTMLElement} row @returns {HTMLElement} The one that stands there now. */
function putRow(old, row) {
  if (!isTyping(old)) {
    old.replaceWith(row);
    return row;
  }
  old.className = row.className;
  for (const cell of /** @type {NodeListOf<HTMLElement>} */ (row.querySelectorAll("[data-cell]"))) {
    const own = old.querySelector(`[data-cell="${CSS.escape(cell.dataset.cell ?? "")}"]`);
    if (!own) continue;
    if (isTyping(own)) putCell(own, cell);
    else own.replaceWith(cell);
  }
  return old;
}

/** A cell with the focus that nothing was typed into yet shows the file's text too. @param {Element} old @param {Element} cell */
function putCell(old, cell) {
  const field = /** @type {HTMLInputElement | null} */ (old.querySelector("input"));
  const fresh = cell.querySelector("input");
  if (!field || !fresh || field.value !== field.defaultValue || field.dataset.refused !== undefined) return;
  field.value = field.defaultValue = fresh.value;
  old.querySelectorAll(".why").forEach((why) => why.remove());
  old.append(...cell.querySelectorAll(".why"));
  for (const name of ["aria-invalid", "aria-describedby"]) {
    const value = fresh.getAttribute(name);
    if (value === null) field.removeAttribute(name);
    else field.setAttribute(name, value);
  }
}

/** What the reader has unfolded stays so. @param {Element} old @param {Element} part */
function keepOpen(old, part) {
  const fresh = part.querySelectorAll("details");
  old.querySelectorAll("details").forEach((details, i) => {
    if (details.open && fresh[i]) fresh[i].open = true;
  });
}
