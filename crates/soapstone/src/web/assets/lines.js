// From a mistake to its line in the file's text.

export class Lines {
  connect() {
    document.addEventListener("click", (event) => {
      const link = /** @type {HTMLElement | null} */ (/** @type {Element} */ (event.target).closest("[data-line]"));
      const area = /** @type {HTMLTextAreaElement | null} */ (document.querySelector("textarea#text"));
      if (!link || !area) return;
      event.preventDefault();
      this.#show(area, Number(link.dataset.line));
    });
  }

  /** @param {HTMLTextAreaElement} area @param {number} line */
  #show(area, line) {
    const before = area.value.split("\n").slice(0, line - 1);
    const from = before.reduce((sum, text) => sum + text.length + 1, 0);
    const end = area.value.indexOf("\n", from);
    area.focus();
    area.setSelectionRange(from, end < 0 ? area.value.length : end);
    const high = area.scrollHeight / area.value.split("\n").length;
    area.scrollTop = Math.max(0, line * high - area.clientHeight / 2);
  }
}
