// Sliders that every drawing follows while they move, and buttons that move them.
import { query, withFields } from "./address.js";

/** One way and back [ms]. */
const PERIOD = 4000;

/** The table is that of ride height: it stands still while the wheel moves. */
const STILL = ["table", "figures"];

export class Play {
  /** Name of the slider that moves by itself. */
  #moving = "";
  #begun = 0;

  /** @param {import("./parts.js").Parts} parts */
  constructor(parts) {
    this.parts = parts;
  }

  connect() {
    document.addEventListener("input", (event) => {
      const slider = /** @type {HTMLInputElement} */ (event.target);
      if (!slider.matches("[data-sliders] [type=range]")) return;
      this.#stop();
      void this.parts.show(withFields({ [slider.name]: slider.value, unseen: this.parts.unseen(STILL) }));
    });
    document.addEventListener("click", (event) => {
      const button = /** @type {HTMLElement | null} */ (/** @type {Element} */ (event.target).closest("[data-play]"));
      if (!button) return;
      const name = button.dataset.play ?? "";
      if (this.#moving === name) void this.#rest();
      else this.#start(name);
    });
  }

  /** @param {string} name */
  #start(name) {
    this.#moving = name;
    const slider = this.#slider();
    if (!slider) return this.#stop();
    // Begin where the slider stands.
    const share = Math.max(-1, Math.min(1, Number(slider.value) / Number(slider.max)));
    this.#begun = performance.now() - (Math.asin(share) / (2 * Math.PI)) * PERIOD;
    requestAnimationFrame((now) => void this.#step(now));
  }

  /** @param {number} now */
  async #step(now) {
    const slider = this.#slider();
    if (!this.#moving || !slider) return;
    const value = Number(slider.max) * Math.sin(((now - this.#begun) / PERIOD) * 2 * Math.PI);
    await this.parts.show(withFields({ [this.#moving]: value.toFixed(5), unseen: this.parts.unseen(STILL) }));
    const fresh = this.#slider();
    if (fresh) {
      fresh.value = String(value);
      const button = fresh.parentElement?.querySelector("[data-play]");
      button?.setAttribute("aria-pressed", "true");
      if (button) button.textContent = "stop";
    }
    requestAnimationFrame((next) => void this.#step(next));
  }

  #slider() {
    return /** @type {HTMLInputElement | null} */ (document.getElementById(`at-${this.#moving}`));
  }

  #stop() {
    this.#moving = "";
  }

  /** Stops where it is and keeps that in the address. */
  async #rest() {
    const name = this.#moving;
    const value = this.#slider()?.value ?? "0";
    this.#stop();
    await this.parts.settled();
    const fields = query();
    fields.set(name, value);
    await this.parts.visit(`/place?${fields}`);
  }
}
