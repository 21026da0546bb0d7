// Tables from a spreadsheet, and other forms whose answer is the page itself: sent without loading it anew.
import { say } from "./address.js";
import { textOf } from "./cells.js";

const AXES = ["x", "y", "z", "accuracy"];

export class Paste {
  /** @param {import("./parts.js").Parts} parts */
  constructor(parts) {
    this.parts = parts;
  }

  connect() {
    document.addEventListener("paste", (event) => this.#paste(event));
    document.addEventListener("submit", (event) => {
      const form = /** @type {HTMLFormElement} */ (event.target);
      if (!form.matches("[data-post]") || document.body.dataset.stage !== "measure") return;
      event.preventDefault();
      void this.#post(form);
    });
  }

  /** @param {HTMLFormElement} form */
  async #post(form) {
    const body = new URLSearchParams(/** @type {any} */ (new FormData(form)));
    const answer = await fetch(form.action, { method: "POST", body });
    const page = new DOMParser().parseFromString(await answer.text(), "text/html");
    // The answer has what was typed: nothing here is to be kept.
    form.reset();
    if (form.contains(document.activeElement)) /** @type {HTMLElement} */ (document.activeElement).blur();
    this.parts.take(page);
    const wrong = page.querySelector(".preview .wrong, form.add .why");
    say(answer.ok ? "taken into the file" : (wrong?.textContent ?? "that did not work"));
  }

  /** More than one cell in the clipboard fills the table from here on. @param {ClipboardEvent} event */
  #paste(event) {
    const field = /** @type {HTMLElement} */ (event.target);
    const row = /** @type {HTMLElement | null} */ (field.closest?.("tr[data-paste]"));
    const text = (event.clipboardData?.getData("text/plain") ?? "").replace(/[\r\n]+$/, "");
    const area = /** @type {HTMLTextAreaElement | null} */ (document.querySelector("[data-paste-into] textarea"));
    if (!row || !area || !/[\t\n]/.test(text)) return;
    event.preventDefault();
    const lines = text.split(/\r?\n/).map((line) => line.split("\t"));
    const named = lines.some((cells) => cells.length > 3 && /^[^\d+−-]*[a-z]/i.test(cells[0]) && !/\d/.test(cells[0][0] ?? ""));
    const cell = /** @type {HTMLElement | null} */ (field.closest("[data-cell]"));
    area.value = named ? text : filled(row, AXES.indexOf(cell?.dataset.cell ?? "x"), lines);
    area.closest("details")?.setAttribute("open", "");
    area.form?.requestSubmit();
  }
}

/**
 * Rows with names, of figures that go down from a cell; what is not pasted over is taken as it stands.
 * @param {HTMLElement} row @param {number} column @param {string[][]} lines
 */
function filled(row, column, lines) {
  const all = /** @type {HTMLElement[]} */ ([...(row.closest("table")?.querySelectorAll("tr[data-paste]") ?? [])]);
  const from = all.indexOf(row);
  return lines
    .map((cells, i) => {
      const to = all[from + i];
      const old = (/** @type {number} */ j) => (to ? textOf(to, AXES[j]) : "");
      const texts = AXES.map((_, j) => cells[j - Math.max(0, column)]?.trim() || old(j));
      return [to?.dataset.paste ?? `row ${i + 1}`, ...texts].join("\t").trimEnd();
    })
    .join("\n");
}
