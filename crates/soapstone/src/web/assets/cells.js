// The survey's cells: each is written as soon as it is left, and what was refused stays in it with the reason.

export class Cells {
  /** @param {import("./parts.js").Parts} parts @param {import("./send.js").Send} send */
  constructor(parts, send) {
    this.parts = parts;
    this.send = send;
  }

  connect() {
    document.addEventListener("change", (event) => {
      const field = /** @type {HTMLInputElement} */ (event.target);
      if (field.closest("[data-cell]")) void this.#write(field);
    });
    document.addEventListener("keydown", (event) => this.#key(event));
  }

  /** @param {HTMLInputElement} field */
  async #write(field) {
    const edit = meant(field);
    if (!edit) return;
    const before = field.defaultValue;
    delete field.dataset.refused;
    told(field, null);
    // What the file is about to have: anything else that comes from there may then replace it.
    if (field.matches("input")) field.defaultValue = field.value;
    field.dataset.writing = "";
    const answer = await this.send.post("/edit", JSON.stringify(edit), null);
    delete field.dataset.writing;
    if (answer.ok) return;
    // Its table may have been drawn anew meanwhile.
    const own = field.isConnected ? null : document.getElementById(field.id);
    const shown = own instanceof HTMLInputElement ? own : field;
    shown.defaultValue = before;
    shown.value = field.value;
    shown.dataset.refused = "";
    told(shown, answer);
  }

  /** @param {KeyboardEvent} event */
  #key(event) {
    const field = /** @type {HTMLInputElement} */ (event.target);
    const cell = field.matches?.("[data-cell] input") ? field.closest("[data-cell]") : null;
    if (!cell || event.ctrlKey || event.metaKey || event.altKey) return;
    if (event.key === "Escape") {
      field.value = field.defaultValue;
      delete field.dataset.refused;
      told(field, null);
    }
    const way = { Enter: 1, ArrowDown: 1, ArrowUp: -1 }[event.key];
    if (!way) return;
    event.preventDefault();
    const to = next(/** @type {HTMLElement} */ (cell), way, event.key === "Enter");
    // Leaving the field writes it; where there is nowhere to go it is left and taken up again.
    if (!to) field.blur();
    (to ?? field).focus();
    if (to instanceof HTMLInputElement) to.select();
    if (to instanceof HTMLAnchorElement) to.click();
  }
}

/** The edit that a changed field means. @param {HTMLInputElement} field */
function meant(field) {
  const cell = /** @type {HTMLElement} */ (field.closest("[data-cell]"));
  const row = /** @type {HTMLElement} */ (cell.closest("[data-row]"));
  const text = field.value.trim();
  if (cell.dataset.path) {
    if (text === "" && field.matches("input") && field.defaultValue === "") return null;
    return { edit: "value", path: cell.dataset.path, text: text === "" ? null : text };
  }
  const place = JSON.parse(row.dataset.place ?? "null");
  switch (cell.dataset.cell) {
    case "name":
      return { edit: "rename-hole", ...place.hole, to: text };
    case "accuracy":
      if (text === "" && field.defaultValue === "") return null;
      return { edit: "accuracy", place, text: text === "" ? null : text };
    default:
      if (row.dataset.whole === undefined) return { edit: "coordinate", place, coordinate: cell.dataset.cell, text };
      return { edit: "move", place, to: { typed: ["x", "y", "z"].map((axis) => textOf(row, axis)) } };
  }
}

/** @param {Element} row @param {string} axis */
export function textOf(row, axis) {
  const field = /** @type {HTMLInputElement | null} */ (row.querySelector(`[data-cell="${axis}"] input`));
  return field?.value.trim() ?? "";
}

/**
 * Writes below a field why it was refused, or takes that away.
 * @param {HTMLInputElement} field @param {{ message: string, hint: string | null } | null} answer
 */
function told(field, answer) {
  const cell = field.closest("[data-cell]");
  cell?.querySelectorAll(".why").forEach((why) => why.remove());
  field.removeAttribute("aria-invalid");
  field.removeAttribute("aria-describedby");
  if (!answer || !cell) return;
  const why = document.createElement("p");
  why.className = "why";
  why.id = `why-${field.id}`;
  const hint = document.createElement("span");
  hint.className = "hint";
  hint.textContent = answer.hint ? ` ${answer.hint}` : "";
  why.role = "alert";
  // It stands at the cell, which need not be named again.
  why.append(answer.message.replace(/^`[^`]*`: /, ""), hint);
  cell.append(why);
  field.setAttribute("aria-invalid", "true");
  field.setAttribute("aria-describedby", why.id);
}

/**
 * Where a key leads: the same column of another row; on a telephone, where a row stands alone, the next field and
 * then the next point.
 * @param {HTMLElement} cell @param {number} way @param {boolean} entered
 * @returns {HTMLElement | null}
 */
function next(cell, way, entered) {
  const seen = (/** @type {Element} */ place) => /** @type {HTMLElement} */ (place).offsetParent !== null;
  const table = cell.closest("table");
  const column = cell.dataset.path ? "[data-cell] input" : `[data-cell="${cell.dataset.cell}"] input`;
  const all = [...(table?.querySelectorAll(column) ?? [])].filter(seen);
  const at = all.findIndex((field) => cell.contains(field));
  const there = /** @type {HTMLElement | undefined} */ (all[at + way]);
  const alone = all.length === 1 && entered;
  if (there || !alone) return there ?? null;
  const row = [...(cell.closest("[data-row]")?.querySelectorAll("[data-cell] input") ?? [])];
  const after = row[row.findIndex((field) => cell.contains(field)) + 1];
  return /** @type {HTMLElement | null} */ (after ?? document.querySelector("[data-next]"));
}
