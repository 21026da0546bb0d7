// Links and forms without loading the page anew; changes are sent as JSON.
import { fact, say } from "./address.js";

export class Send {
  /** @param {import("./parts.js").Parts} parts */
  constructor(parts) {
    this.parts = parts;
  }

  connect() {
    document.addEventListener("click", (event) => this.#click(event));
    document.addEventListener("submit", (event) => this.#submit(event));
    document.addEventListener("change", (event) => {
      const field = /** @type {HTMLElement} */ (event.target);
      const form = /** @type {HTMLFormElement | null} */ (field.closest("form[data-state]"));
      if (form && field.matches("select, [type=range]")) form.requestSubmit();
    });
    document.addEventListener("keydown", (event) => this.#keys(event));
    addEventListener("popstate", () => void this.parts.refresh());
  }

  /** @param {MouseEvent} event */
  #click(event) {
    const link = /** @type {Element} */ (event.target).closest("a");
    const plain = event.button === 0 && !event.ctrlKey && !event.metaKey && !event.shiftKey && !event.altKey;
    if (!link || !plain || event.defaultPrevented || link.origin !== location.origin) return;
    if (link.pathname !== location.pathname || link.hash) return;
    event.preventDefault();
    void this.parts.visit(link.href);
  }

  /** @param {SubmitEvent} event */
  #submit(event) {
    const form = /** @type {HTMLFormElement} */ (event.target);
    const fields = new FormData(form, event.submitter);
    if (form.method === "get") {
      const to = new URL(form.action);
      if (to.pathname !== location.pathname) return;
      event.preventDefault();
      to.search = String(new URLSearchParams(/** @type {any} */ (fields)));
      void this.parts.visit(to.href);
    } else if (form.dataset.way !== undefined || form.dataset.keep !== undefined) {
      event.preventDefault();
      const to = new URL(form.action).pathname;
      void this.post(to, String(fields.get("edit") ?? "{}"), String(fields.get("back") ?? location.href));
    }
  }

  /** @param {KeyboardEvent} event */
  #keys(event) {
    const typing = /** @type {Element} */ (event.target).matches?.("input:not([type=range]), textarea");
    if (!(event.ctrlKey || event.metaKey) || typing || event.altKey) return;
    const key = event.key.toLowerCase();
    const way = key === "z" ? (event.shiftKey ? "redo" : "undo") : key === "y" ? "redo" : "";
    if (!way) return;
    event.preventDefault();
    void this.post(`/${way}`, "{}", location.href);
  }

  /**
   * Sends a change and shows what came of it.
   * @param {string} to @param {string} body
   * @param {string | null} back Address to show afterwards; null stays where the reader is by then.
   * @returns {Promise<{ ok: boolean, message: string, hint: string | null, mistakes: any[] }>}
   */
  async post(to, body, back) {
    const headers = { "content-type": "application/json", "x-soapstone-token": fact("token") };
    const answer = await fetch(to, { method: "POST", headers, body });
    const kind = answer.headers.get("content-type") ?? "";
    if (!kind.startsWith("application/json")) {
      const message = await answer.text();
      say(message);
      return { ok: false, message, hint: null, mistakes: [] };
    }
    const said = await answer.json();
    // Who stays where he is shows himself what is wrong.
    if (said.ok) say(said.message);
    else if (back !== null) say([said.message, said.hint].filter(Boolean).join(" - "), { firm: true });
    if (said.ok) await (back === null ? this.parts.refresh() : this.parts.visit(back));
    else if (answer.status === 409) await this.parts.refresh();
    return said;
  }
}
