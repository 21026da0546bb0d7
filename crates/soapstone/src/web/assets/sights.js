// The pictures beside the survey: the point whose row has the focus is lit up, and a point that is pressed has its row
// taken up.
import { nearest } from "./drag.js";

export class Sights {
  connect() {
    document.addEventListener("focusin", (event) => this.#light(/** @type {Element} */ (event.target)));
    document.addEventListener("soapstone-shown", () => document.activeElement && this.#light(document.activeElement));
    document.addEventListener("click", (event) => this.#take(event));
  }

  /** @param {Element} target */
  #light(target) {
    const row = /** @type {HTMLElement | null} */ (target.closest?.("tr[data-place]"));
    const name = row?.dataset.row;
    if (!row || name === undefined) return;
    const [point, hole] = name.split("#");
    for (const figure of document.querySelectorAll("figure.sight")) {
      figure.classList.toggle("hub-lit", name === "wheel.centre");
      figure.querySelectorAll(".lit").forEach((mark) => mark.classList.remove("lit"));
      const place = hole === undefined
        ? `[data-point="${CSS.escape(point)}"]`
        : `[data-hole="${CSS.escape(hole)}"][data-for="${CSS.escape(point)}"]`;
      figure.querySelector(place)?.classList.add("lit");
    }
    const words = document.querySelector("[data-lit-words]");
    const says = row.querySelector("th")?.innerText.split("\n")[0] ?? "";
    const part = row.closest("tbody")?.querySelector(".group th")?.textContent;
    if (words) words.textContent = [part, says].filter(Boolean).join(", ");
  }

  /** @param {MouseEvent} event */
  #take(event) {
    const svg = /** @type {SVGSVGElement | null} */ (/** @type {Element} */ (event.target).closest?.("figure.sight svg"));
    const mark = svg && nearest(svg, event.clientX, event.clientY);
    if (!mark) return;
    const hole = mark.getAttribute("data-hole");
    const name = hole === null ? mark.getAttribute("data-point") : `${mark.getAttribute("data-for")}#${hole}`;
    const row = document.querySelector(`tr[data-row="${CSS.escape(name ?? "")}"]`);
    const field = /** @type {HTMLElement | null} */ (row?.querySelector("input") ?? null);
    // On a telephone only the row at hand is there to take the focus.
    if (field?.offsetParent) field.focus();
    else /** @type {HTMLElement | null} */ (row?.querySelector("a[data-at]") ?? null)?.click();
  }
}
