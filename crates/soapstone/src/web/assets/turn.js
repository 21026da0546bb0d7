// The view that can be turned about: hand, wheel and keys move the eye; the mesh follows the page.
import { fact } from "./address.js";
import { Solid } from "./solid.js";

/** From inside, ahead and above: the links stand before their wheel [rad, rad]. */
const START = { yaw: -0.75, pitch: 0.45, zoom: 1 };
/** Distance of the eye in sizes of what it looks at. */
const AWAY = 1.35;
/** Turn for a pixel and for a key press [rad]. */
const PER_PIXEL = 0.008;
const PER_KEY = 0.09;
const MOST_PITCH = 1.5;

/** While a hand moves a point, drawing in space takes at most this share of the time: without a graphics card it is slow. */
const SHARE = 1 / 30;
/** Longest that it waits for that [ms]; a hand that is still for so long has paused [ms]; how often it looks [ms]. */
const LONGEST_WAIT = 1000;
const PAUSE = 120;
const LOOK = 20;

export class Turn {
  #eye = { ...START };
  /** @type {{ about: number[], size: number } | null} What is looked at and its size [mm]. */
  #aim = null;
  #aimedAt = "";
  #loaded = "";
  /** @type {Map<number, PointerEvent>} */
  #fingers = new Map();
  #frame = 0;
  #wanted = false;
  #busy = false;
  #inSight = false;
  /** When a drag may have the next mesh [ms]. */
  #due = 0;

  /** @param {import("./parts.js").Parts} parts */
  constructor(parts) {
    this.parts = parts;
  }

  connect() {
    const figure = document.getElementById("solid-view");
    const canvas = figure?.querySelector("canvas");
    if (!figure || !canvas) return;
    try {
      this.solid = new Solid(canvas);
    } catch {
      return; // The figure says in words what it lacks.
    }
    figure.classList.add("live");
    canvas.addEventListener("pointerdown", (event) => {
      canvas.setPointerCapture(event.pointerId);
      this.#fingers.set(event.pointerId, event);
    });
    canvas.addEventListener("pointermove", (event) => this.#move(event));
    for (const end of /** @type {const} */ (["pointerup", "pointercancel"])) {
      canvas.addEventListener(end, (event) => this.#fingers.delete(event.pointerId));
    }
    canvas.addEventListener("wheel", (event) => this.#wheel(event), { passive: false });
    canvas.addEventListener("keydown", (event) => this.#key(event));
    canvas.addEventListener("webglcontextlost", (event) => event.preventDefault());
    canvas.addEventListener("webglcontextrestored", () => this.#restore());
    matchMedia("(prefers-color-scheme: dark)").addEventListener("change", () => (this.solid?.colour(), this.#draw()));
    new ResizeObserver(() => this.#draw()).observe(canvas);
    document.addEventListener("soapstone-shown", () => void this.#fetch());
    new IntersectionObserver((seen) => {
      this.#inSight = seen.some((one) => one.isIntersecting);
      if (this.#inSight) void this.#fetch();
    }).observe(canvas);
  }

  /** The graphics card has lost what it held. */
  #restore() {
    this.#loaded = "";
    this.solid?.start();
    void this.#fetch();
  }

  /** Fetches the mesh of what is shown; one request at a time, then the latest state. */
  async #fetch() {
    this.#wanted = true;
    if (this.#busy || !this.#inSight) return;
    this.#busy = true;
    try {
      while (this.#wanted) {
        this.#wanted = false;
        // While a point is dragged the view under the hand goes first.
        while (this.#waits()) await new Promise((then) => setTimeout(then, LOOK));
        const shown = new URL(this.parts.address || stage() || location.href, location.href);
        // The same state in another width has the same mesh.
        const state = `${shown.search} ${fact("version")}`;
        if (state === this.#loaded) continue;
        const answer = await fetch(`/place/solid${shown.search}`);
        const { parts } = await answer.json();
        this.solid?.load(parts);
        this.#loaded = state;
        this.#look(shown.searchParams, parts);
        this.#draw();
      }
    } catch {
      // The flat views tell that the server is away.
    } finally {
      this.#busy = false;
    }
  }

  /** Whether a mesh waits for the hand. */
  #waits() {
    const now = performance.now();
    return this.parts.held && now < this.#due && now - this.parts.asked < PAUSE;
  }

  /** Aims at the corner, or at the whole car; only when that changes. @param {URLSearchParams} shown @param {import("./solid.js").Part[]} parts */
  #look(shown, parts) {
    const whole = shown.get("fit") === "car";
    const aim = `${shown.get("axle")} ${whole}`;
    if (aim === this.#aimedAt || parts.length === 0) return;
    this.#aimedAt = aim;
    const seen = parts.filter((part) => part.class !== "ground" && (whole || !/far|other/.test(part.class)));
    const spans = [0, 1, 2].map((axis) => {
      const along = seen.flatMap((part) => part.at.filter((_, i) => i % 3 === axis));
      return [along.reduce((a, b) => Math.min(a, b), 1e9), along.reduce((a, b) => Math.max(a, b), -1e9)];
    });
    this.#aim = { about: spans.map(([a, b]) => (a + b) / 2), size: Math.hypot(...spans.map(([a, b]) => b - a)) };
  }

  /** @param {PointerEvent} event */
  #move(event) {
    const before = this.#fingers.get(event.pointerId);
    if (!before) return;
    const other = [...this.#fingers.values()].find((finger) => finger.pointerId !== event.pointerId);
    this.#fingers.set(event.pointerId, event);
    if (other) {
      const apart = (/** @type {PointerEvent} */ e) => Math.hypot(e.clientX - other.clientX, e.clientY - other.clientY);
      this.#zoom(apart(event) / Math.max(1, apart(before)));
    } else this.#turn((before.clientX - event.clientX) * PER_PIXEL, (event.clientY - before.clientY) * PER_PIXEL);
  }

  /** Only where the reader has chosen the view or holds ctrl: otherwise the page scrolls. @param {WheelEvent} event */
  #wheel(event) {
    if (!event.ctrlKey && document.activeElement !== event.target) return;
    event.preventDefault();
    this.#zoom(Math.exp(-Math.max(-60, Math.min(60, event.deltaY)) * 0.004));
  }

  /** @param {KeyboardEvent} event */
  #key(event) {
    if (event.ctrlKey || event.metaKey || event.altKey) return;
    const turn = { ArrowLeft: [1, 0], ArrowRight: [-1, 0], ArrowUp: [0, 1], ArrowDown: [0, -1] }[event.key];
    if (turn) this.#turn(turn[0] * PER_KEY, turn[1] * PER_KEY);
    else if (event.key === "+" || event.key === "=") this.#zoom(1.15);
    else if (event.key === "-") this.#zoom(1 / 1.15);
    else if (event.key === "Home") (this.#eye = { ...START }), this.#draw();
    else return;
    event.preventDefault();
  }

  /** @param {number} yaw @param {number} pitch */
  #turn(yaw, pitch) {
    this.#eye.yaw += yaw;
    this.#eye.pitch = Math.max(-MOST_PITCH, Math.min(MOST_PITCH, this.#eye.pitch + pitch));
    this.#draw();
  }

  /** @param {number} by */
  #zoom(by) {
    this.#eye.zoom = Math.max(0.3, Math.min(8, this.#eye.zoom * by));
    this.#draw();
  }

  /** Draws on the next frame, once however much has changed. */
  #draw() {
    if (this.#frame || !this.#aim) return;
    this.#frame = requestAnimationFrame(() => {
      this.#frame = 0;
      const { yaw, pitch, zoom } = this.#eye;
      const { about, size } = this.#aim ?? { about: [0, 0, 0], size: 1 };
      const begun = performance.now();
      this.solid?.draw({ yaw, pitch, away: (size * AWAY) / zoom, about });
      // What drawing really takes shows once the frame is painted: a message sent now waits behind that.
      const { port1, port2 } = new MessageChannel();
      port1.onmessage = () => {
        const now = performance.now();
        this.#due = now + Math.min(LONGEST_WAIT, (now - begun) / SHARE);
        port1.close();
      };
      port2.postMessage(null);
    });
  }
}

/** The page's state in full, as the server wrote it into the link to the page itself. */
function stage() {
  return document.querySelector("[data-stage-link=place]")?.getAttribute("href") ?? "";
}
