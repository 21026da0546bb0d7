// Dragging a point or a hole by pointer or arrow keys. The server works out where it goes and what follows.
import { query, withFields } from "./address.js";

/** Farther than this a press is a drag, not a tap [px]. */
const TAP = 4;
/** How near a mark has to be pressed [px]. */
const REACH = 24;
const AXES = ["x", "y", "z"];

/** @typedef {{ view: string, scale: number, ways: [string, string] }} Seen How a view shows the car: [mm/px], axes. */
/** @typedef {{ what: string, from: number[], seen: Seen, x: number, y: number, far: boolean }} Held */

export class Drag {
  /** @type {Held | null} */
  #held = null;
  #lastKey = 0;
  /** Where keys have moved a point that the page does not show there yet. @type {{ what: string, to: number[] } | null} */
  #ahead = null;

  /** @param {import("./parts.js").Parts} parts */
  constructor(parts) {
    this.parts = parts;
  }

  connect() {
    const main = document.getElementById("main");
    main?.addEventListener("pointerdown", (event) => this.#take(event));
    main?.addEventListener("pointermove", (event) => this.#move(event));
    main?.addEventListener("pointerup", (event) => void this.#leave(event));
    main?.addEventListener("pointercancel", () => void this.#drop());
    main?.addEventListener("keydown", (event) => void this.#key(event));
    addEventListener("keydown", (event) => event.key === "Escape" && this.#held && void this.#drop());
  }

  /** @param {PointerEvent} event */
  #take(event) {
    const target = /** @type {Element} */ (event.target);
    const figure = /** @type {HTMLElement | null} */ (target.closest("figure.view"));
    const svg = figure?.querySelector("svg");
    if (!figure || !svg || event.button !== 0 || !target.closest("[data-point], [data-hole]")) return;
    const mark = nearest(svg, event.clientX, event.clientY);
    if (!mark) return;
    event.preventDefault();
    figure.setPointerCapture(event.pointerId);
    // The drawing is replaced while the point moves: what it says of its scale is kept.
    this.#held = { ...named(mark), seen: seen(svg), x: event.clientX, y: event.clientY, far: false };
    this.parts.held = true;
  }

  /** @param {PointerEvent} event */
  #move(event) {
    const held = this.#held;
    if (!held) return;
    const [dx, dy] = [event.clientX - held.x, event.clientY - held.y];
    if (!held.far && Math.hypot(dx, dy) < TAP) return;
    held.far = true;
    void this.#show(held.what, held.seen, shifted(held.seen, held.from, dx, dy));
  }

  /** @param {PointerEvent} event */
  async #leave(event) {
    const held = this.#held;
    if (!held) return;
    if (held.far) this.#move(event);
    this.#held = null;
    if (held.far) {
      await this.parts.settled();
      this.parts.held = false;
      await this.parts.visit(this.parts.address);
      return;
    }
    this.parts.held = false;
    const [key, hole] = held.what.split("#");
    if (hole === undefined) {
      await this.parts.visit(`/place?${withFields({ point: held.what })}`);
      return;
    }
    const fields = query();
    const others = fields.getAll("use").filter((use) => !use.startsWith(`${key}=`));
    const moves = fields.getAll("move").filter((move) => !move.startsWith(`${key}@`));
    fields.delete("use");
    fields.delete("move");
    for (const use of [...others, `${key}=${hole}`]) fields.append("use", use);
    for (const move of moves) fields.append("move", move);
    fields.set("point", held.what);
    await this.parts.visit(`/place?${fields}`);
  }

  /** @param {string} what @param {Seen} seen @param {number[]} to [mm] */
  #show(what, seen, to) {
    const metres = to.map((v) => (v / 1000).toFixed(6)).join(",");
    // Of the table only the row on trial moves, once it is there: the axle's figures at once, the whole car's behind them.
    const there = document.getElementById("part-trial-row") !== null;
    const unseen = this.parts.unseen(there ? ["rows"] : []);
    const share = there ? "axle" : null;
    return this.parts.show(withFields({ drag: `${what}@${metres}`, view: seen.view, unseen, share }));
  }

  /** Lets go without moving anything. */
  async #drop() {
    this.#held = null;
    await this.parts.settled();
    this.parts.held = false;
    await this.parts.refresh();
  }

  /** @param {KeyboardEvent} event */
  async #key(event) {
    const mark = /** @type {Element} */ (event.target).closest?.("[data-point], [data-hole]");
    const svg = mark?.closest("svg");
    if (!mark || !svg) return;
    if (event.key === "Enter" || event.key === " ") {
      event.preventDefault();
      const { what } = named(mark);
      const [key, hole] = what.split("#");
      const fields = withFields({ point: what });
      if (hole !== undefined) fields.append("use", `${key}=${hole}`);
      await this.parts.visit(`/place?${fields}`);
      return;
    }
    const way = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] }[event.key];
    if (!way) return;
    event.preventDefault();
    const { what, from: shown } = named(mark);
    // Keys may come faster than the drawing: the next step is from where the last one goes.
    const from = this.#ahead?.what === what ? this.#ahead.to : shown;
    const step = stepOf() * (event.shiftKey ? 10 : 1);
    const view = seen(svg);
    const px = step / view.scale;
    const ahead = (this.#ahead = { what, to: shifted(view, from, way[0] * px, way[1] * px) });
    await this.#show(what, view, ahead.to);
    await this.parts.settled();
    if (this.#ahead !== ahead) return;
    this.#ahead = null;
    if (!this.parts.address) return;
    // A run of key presses is one step back.
    const run = event.timeStamp - this.#lastKey < 1000;
    this.#lastKey = event.timeStamp;
    history[run ? "replaceState" : "pushState"](null, "", this.parts.address);
    clearTimeout(this.timer);
    this.timer = setTimeout(() => void this.parts.refresh(), 250);
  }
}

/** The mark that is nearest to a place on the screen. @param {SVGSVGElement} svg @param {number} x @param {number} y */
export function nearest(svg, x, y) {
  let best = null;
  let least = REACH;
  for (const mark of svg.querySelectorAll("[data-point], [data-hole]")) {
    const box = (mark.querySelector(".mark") ?? mark).getBoundingClientRect();
    // A point that is in a hole lies on it: the point goes first.
    const bias = mark.hasAttribute("data-hole") ? 0.5 : 0;
    const far = Math.hypot(box.x + box.width / 2 - x, box.y + box.height / 2 - y) + bias;
    if (far < least) [best, least] = [mark, far];
  }
  return best;
}

/** A mark's name and place [mm]. @param {Element} mark @returns {{ what: string, from: number[] }} */
function named(mark) {
  const hole = mark.getAttribute("data-hole");
  const what = hole === null ? (mark.getAttribute("data-point") ?? "") : `${mark.getAttribute("data-for")}#${hole}`;
  const at = mark.getAttribute("data-design") ?? mark.getAttribute("data-at") ?? "";
  return { what, from: at.split(" ").map(Number) };
}

/** Step that points move in [mm]. */
function stepOf() {
  return Number(query().get("step") ?? "0.001") * 1000;
}

/** @param {SVGSVGElement} svg @returns {Seen} */
function seen(svg) {
  const scale = Number(svg.dataset.mmPerPx) * (svg.viewBox.baseVal.width / svg.clientWidth);
  return { view: svg.dataset.view ?? "none", scale, ways: [svg.dataset.right ?? "+x", svg.dataset.up ?? "+z"] };
}

/**
 * A place of the car [mm] moved on the screen [px].
 * @param {Seen} seen @param {number[]} from @param {number} dx @param {number} dy
 */
function shifted(seen, from, dx, dy) {
  const to = [...from];
  // In whole steps from where it was: 15 mm up is 15, not 14.8.
  const step = stepOf();
  seen.ways.forEach((way, i) => {
    const by = (way[0] === "-" ? -1 : 1) * (i === 0 ? dx : -dy) * seen.scale;
    to[AXES.indexOf(way[1])] += Math.round(by / step) * step;
  });
  return to;
}
