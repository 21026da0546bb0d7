// What a number means, on hover or focus; how it comes about, on a click.

export class Meaning {
  connect() {
    this.tip = document.createElement("div");
    this.tip.id = "tip";
    this.tip.role = "tooltip";
    this.tip.hidden = true;
    document.body.append(this.tip);
    for (const kind of ["mouseover", "focusin"]) {
      document.addEventListener(kind, (event) => this.#show(/** @type {Element} */ (event.target)));
    }
    for (const kind of ["mouseout", "focusout"]) document.addEventListener(kind, () => this.#hide());
    document.addEventListener("keydown", (event) => event.key === "Escape" && this.#hide());
    document.addEventListener("click", (event) => void this.#work(event));
  }

  /** @param {Element} target */
  #show(target) {
    const place = target.closest?.("[data-means], a.num, text[data-quantity]");
    const words = place && (place.getAttribute("data-means") ?? ofColumn(place) ?? home(place)?.getAttribute("data-means"));
    if (!place || !words || !this.tip) return;
    this.tip.textContent = words;
    this.tip.hidden = false;
    const box = place.getBoundingClientRect();
    const own = this.tip.getBoundingClientRect();
    const left = Math.max(8, Math.min(box.left, innerWidth - own.width - 8));
    const below = box.bottom + 8 + own.height < innerHeight;
    const top = below ? box.bottom + 8 : Math.max(8, box.top - own.height - 8);
    // A constructed style is not inline style: the page's policy allows it.
    this.tip.style.setProperty("left", `${left}px`);
    this.tip.style.setProperty("top", `${top}px`);
    place.setAttribute("aria-describedby", "tip");
  }

  #hide() {
    if (this.tip) this.tip.hidden = true;
    document.querySelector("[aria-describedby=tip]")?.removeAttribute("aria-describedby");
  }

  /** @param {MouseEvent} event */
  async #work(event) {
    const target = /** @type {Element} */ (event.target);
    const drawn = target.closest("text[data-quantity]");
    const link = /** @type {HTMLAnchorElement | null} */ (drawn ? workedOf(drawn) : target.closest("a.num"));
    if (!link || event.button !== 0 || event.ctrlKey || event.metaKey || event.shiftKey) return;
    event.preventDefault();
    const answer = await fetch(link.href);
    const page = new DOMParser().parseFromString(await answer.text(), "text/html");
    const worked = page.getElementById("worked");
    if (!worked) return location.assign(link.href);
    this.#hide();
    const dialog = document.createElement("dialog");
    dialog.setAttribute("aria-label", "Worked number");
    const close = document.createElement("button");
    close.textContent = "Close";
    close.addEventListener("click", () => dialog.close());
    // First, so that the focus does not scroll the page to its end.
    dialog.append(close, worked);
    dialog.addEventListener("click", (e) => e.target === dialog && dialog.close());
    dialog.addEventListener("close", () => (dialog.remove(), link.focus()));
    document.body.append(dialog);
    dialog.showModal();
  }
}

/** The meaning in the head of a cell's column. @param {Element} place */
function ofColumn(place) {
  const cell = /** @type {HTMLTableCellElement | null} */ (place.closest("td"));
  const head = cell?.closest("table")?.tHead?.rows[0]?.cells[cell.cellIndex];
  return head?.getAttribute("data-means") ?? null;
}

/** Where a number of a drawing stands in figures: beside the sliders or at the head of a column. @param {Element} text */
function home(text) {
  const name = CSS.escape(text.getAttribute("data-quantity") ?? "");
  return document.querySelector(`#part-attitude [data-quantity="${name}"], #part-table th[data-quantity="${name}"]`);
}

/** The link to its worked calculation. @param {Element} text */
function workedOf(text) {
  const place = home(text);
  if (!(place instanceof HTMLTableCellElement)) return place?.querySelector("a.num") ?? null;
  const row = /** @type {HTMLTableRowElement | null} */ (document.querySelector("#part-table tr.in-use"));
  return row?.cells[place.cellIndex]?.querySelector("a.num") ?? null;
}
