// Fetches parts of the page and puts them in place. One request is under way at a time; while it is, only the
// latest wish is kept.
import { query, say } from "./address.js";
import { change, follow } from "./follow.js";
import { Line } from "./line.js";
import { putSheet } from "./rows.js";

/** A hand that is still for so long has paused [ms]. */
const PAUSE = 70;
/** Figures that follow are at most so late [ms]. */
const LATEST = 300;

export class Parts {
  /** @type {URLSearchParams | null} */
  #next = null;
  #busy = false;
  /** @type {URLSearchParams | null} The latest wish for the figures that follow. */
  #later = null;
  /** Since when some are due [ms], and whether they are under way. */
  #due = 0;
  #following = false;
  #pause = 0;
  /** @type {{ address: string, push: boolean } | null} The visit that is under way. */
  #going = null;
  line = new Line();
  /** When a state was last asked for [ms]. */
  asked = 0;
  /** Whether something is being dragged: news of the car wait. */
  held = false;
  /** Address of what is shown, also of what the page's own address does not say yet; empty until something was. */
  address = "";

  /**
   * Shows a state at once, as long as it is the latest asked for.
   * @param {URLSearchParams} wish
   */
  async show(wish) {
    this.#next = wish;
    this.asked = performance.now();
    if (this.#busy) return;
    this.#busy = true;
    try {
      while (this.#next) {
        const now = this.#next;
        this.#next = null;
        now.set("width", String(this.width()));
        const answer = await this.line.ask(now);
        const answered = performance.now();
        this.address = answer.address;
        this.#apply(answer);
        document.dispatchEvent(new CustomEvent("soapstone-shown", { detail: { answered, spent: answer.spent } }));
        if (answer.later) this.#wait(now);
        // One swap a frame; by then the pointer's latest place is known.
        if (this.#next) await new Promise((done) => requestAnimationFrame(done));
      }
    } catch (error) {
      say(`Soapstone does not answer: ${error instanceof Error ? error.message : error}`);
    } finally {
      this.#busy = false;
    }
  }

  /**
   * Has the figures that an answer left for later follow as soon as the hand pauses, and now and then while it does not.
   * @param {URLSearchParams} wish
   */
  #wait(wish) {
    const now = performance.now();
    if (!this.#later) this.#due = now;
    if (now - this.#due > 2 * LATEST) document.body.dataset.behind = "";
    this.#later = new URLSearchParams(wish);
    this.#later.set("share", "car");
    clearTimeout(this.#pause);
    const left = Math.max(0, Math.min(PAUSE, this.#due + LATEST - now));
    this.#pause = setTimeout(() => void this.#follow(), left);
  }

  /** Fetches those figures. While they come, answers go on. */
  async #follow() {
    if (this.#following) return;
    this.#following = true;
    try {
      while (this.#later) {
        const now = this.#later;
        this.#later = null;
        const answer = await this.line.ask(now);
        delete document.body.dataset.behind;
        this.#apply(answer);
        document.dispatchEvent(new CustomEvent("soapstone-followed"));
      }
    } catch {
      // The next answer says it if the program is gone.
    } finally {
      this.#following = false;
    }
  }

  /** Resolves when nothing is under way. */
  async settled() {
    clearTimeout(this.#pause);
    this.#later = null;
    while (this.#busy || this.#following) await new Promise((done) => setTimeout(done, 5));
  }

  /** Width that a view has on this screen. */
  width() {
    const view = document.querySelector("figure.view");
    return view ? Math.round(view.clientWidth) : 600;
  }

  /**
   * Parts that are out of sight or stand still: while something moves they can wait.
   * @param {string[]} still
   */
  unseen(still = []) {
    const away = ["table", "figures", "side", "rear", "top", "point", "attitude", "charts"].filter((name) => {
      const box = document.getElementById(`part-${name}`)?.getBoundingClientRect();
      return box && (box.height === 0 || box.bottom < 0 || box.top > innerHeight);
    });
    return [...away, ...still].join(",") || null;
  }

  /** Draws again where the screen has another width than the drawing was made for. */
  fit() {
    const again = () => {
      const view = /** @type {HTMLElement | null} */ (document.querySelector("figure.view[data-drawn]"));
      // A little more or less is met by scaling the drawing.
      if (view && Math.abs(Number(view.dataset.drawn) / view.clientWidth - 1) > 0.06) void this.show(query());
    };
    again();
    let timer = 0;
    addEventListener("resize", () => {
      clearTimeout(timer);
      timer = setTimeout(again, 150);
    });
  }

  /** Puts an answer in place. @param {import("./line.js").Answer} answer */
  #apply(answer) {
    if (answer.html) {
      const template = document.createElement("template");
      template.innerHTML = answer.html;
      // A row of a table may come in a table of its own.
      const parts = [...template.content.children];
      this.put(parts.map((part) => (part instanceof HTMLTableElement ? (part.rows[0] ?? part) : part)));
    }
    if (answer.differs.length === 0) return;
    this.#keeping(() => {
      for (const [id, changes] of answer.differs) {
        const part = document.getElementById(id);
        // A page that is not as the server thinks gets everything next time.
        if (part && !changes.every((one) => change(part, one))) this.line.forget();
      }
    });
  }

  /** @param {Element[]} fresh */
  put(fresh) {
    this.#keeping(() => {
      for (const part of fresh) {
        const old = part.id ? document.getElementById(part.id) : null;
        if (!old) continue;
        if (old.dataset.sheet !== undefined) putSheet(old, /** @type {HTMLElement} */ (part));
        else follow(old, part);
      }
    });
  }

  /** Does something to the page so that the focus, and what is typed there, stay. @param {() => void} work */
  #keeping(work) {
    const focus = focused();
    const typed = unwritten();
    work();
    refocus(focus);
    retype(typed);
  }

  /**
   * Goes to another state of a page and shows it there.
   * @param {string} address
   * @param {{ push?: boolean }} how
   */
  async visit(address, { push = true } = {}) {
    const own = { address, push };
    this.#going = own;
    const answer = await fetch(address, { headers: { accept: "text/html" } });
    const page = new DOMParser().parseFromString(await answer.text(), "text/html");
    // The reader has gone on meanwhile: only the last one counts.
    if (this.#going !== own) return;
    this.#going = null;
    const to = new URL(answer.url);
    if (!answer.ok || page.body.dataset.stage !== document.body.dataset.stage) {
      const why = page.querySelector(".problem p")?.textContent;
      if (why && !answer.ok) say(why);
      else location.assign(to);
      return;
    }
    if (push && to.search !== location.search) history.pushState(null, "", to);
    else if (push) history.replaceState(null, "", to);
    this.address = to.pathname + to.search;
    this.take(page);
    this.fit();
  }

  /** Puts every part of a whole page in place. @param {Document} page */
  take(page) {
    this.line.forget();
    this.put([...page.querySelectorAll("[id^=part-]")]);
    for (const meta of page.querySelectorAll("meta[name^=soapstone-]")) {
      document.querySelector(`meta[name="${meta.getAttribute("name")}"]`)?.replaceWith(meta);
    }
    for (const link of page.querySelectorAll("[data-stage-link]")) {
      const name = link.getAttribute("data-stage-link");
      document.querySelector(`[data-stage-link="${name}"]`)?.setAttribute("href", link.getAttribute("href") ?? "/");
    }
    document.dispatchEvent(new CustomEvent("soapstone-shown"));
  }

  /** Shows the page's own address anew, or the one that is being gone to. */
  async refresh() {
    if (this.#going) return this.visit(this.#going.address, { push: this.#going.push });
    await this.visit(location.href, { push: false });
  }
}

/** Where the focus is, by what stays the same when its part is drawn anew. @returns {string} */
function focused() {
  const at = document.activeElement;
  const part = at?.closest("[id^=part-]");
  if (!at || !part || at === part) return "";
  if (at.id) return `#${CSS.escape(at.id)}`;
  const mark = ["data-point", "data-hole", "name", "href", "data-play"].find((name) => at.hasAttribute(name));
  if (!mark) return "";
  const own = `[${mark}="${CSS.escape(at.getAttribute(mark) ?? "")}"]`;
  return `#${part.id} ${own}`;
}

/** What stands in the field with the focus and is not written yet. */
function unwritten() {
  const field = document.activeElement;
  if (!(field instanceof HTMLInputElement) || field.value === field.defaultValue) return null;
  return { field, value: field.value, from: field.selectionStart, to: field.selectionEnd };
}

/** Puts it back where the field itself was replaced. @param {ReturnType<typeof unwritten>} typed */
function retype(typed) {
  const field = document.activeElement;
  if (!typed || !(field instanceof HTMLInputElement) || field === typed.field) return;
  field.value = typed.value;
  if (typed.from !== null) field.setSelectionRange(typed.from, typed.to);
}

/** @param {string} place */
function refocus(place) {
  if (!place) return;
  const at = /** @type {HTMLElement | null} */ (document.querySelector(place));
  if (at && at !== document.activeElement) at.focus({ preventScroll: true });
}
