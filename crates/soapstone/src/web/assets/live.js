// Follows the car: what another browser or an editor changes is here at once.
import { fact, say } from "./address.js";

export class Live {
  /** @param {import("./parts.js").Parts} parts */
  constructor(parts) {
    this.parts = parts;
    this.waiting = "";
  }

  connect() {
    const source = new EventSource("/events");
    source.addEventListener("car", (event) => {
      const { version, label } = JSON.parse(event.data);
      if (version === fact("version")) return;
      if (version.split("-")[0] !== fact("version").split("-")[0]) return location.reload();
      this.waiting = label;
      void this.#follow();
    });
    source.onerror = () => document.documentElement.classList.add("alone");
    source.onopen = () => document.documentElement.classList.remove("alone");
  }

  async #follow() {
    while (this.parts.held) await new Promise((done) => setTimeout(done, 50));
    const label = this.waiting;
    await this.parts.refresh();
    say(label);
  }
}
