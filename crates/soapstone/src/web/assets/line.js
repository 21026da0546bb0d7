// Asks the server for parts of the page: over a line that stays open where there is one, which takes a third of the time
// of a request and brings only what differs from the answer before; else by a request.

/**
 * @typedef {{ at: number[], text?: string, set?: [string, string | null][], like?: string }} Change
 * @typedef {{ address: string, later: boolean, spent: number, html: string, differs: [string, Change[]][] }} Answer
 * @typedef {{ wish: URLSearchParams, page: number, done: (answer: Answer | Promise<Answer>) => void, failed: (why: Error) => void }} Asked
 */

export class Line {
  /** @type {WebSocket | null} */
  #socket = null;
  /** Questions that wait for their answer, by number. @type {Map<string, Asked>} */
  #asked = new Map();
  #last = 0;
  /** The page changes by other ways too: which one it is, and which one the server knows. */
  #page = 0;
  #known = -1;

  /** Opens the line, so that it is there when a hand moves. */
  open() {
    const at = new URL("/place/moving", location.href);
    at.protocol = at.protocol === "https:" ? "wss:" : "ws:";
    let socket;
    try {
      socket = new WebSocket(at);
    } catch {
      return; // Where a policy forbids it, it goes by requests.
    }
    socket.onmessage = (event) => this.#take(event.data);
    socket.onclose = () => {
      if (this.#socket === socket) this.#socket = null;
      // What was asked is asked in the other way, which also tells what is wrong.
      for (const { wish, done } of this.#asked.values()) done(request(wish));
      this.#asked.clear();
    };
    this.#socket = socket;
    this.forget();
  }

  /** The page has become another one by other ways: the next answer has to be whole. */
  forget() {
    this.#page += 1;
  }

  /** @param {URLSearchParams} wish @returns {Promise<Answer>} */
  ask(wish) {
    const socket = this.#socket;
    if (socket?.readyState !== WebSocket.OPEN) {
      if (!socket) this.open();
      this.forget();
      return request(wish);
    }
    const n = String(++this.#last);
    return new Promise((done, failed) => {
      this.#asked.set(n, { wish, page: this.#page, done, failed });
      socket.send(`n=${n}&${this.#known === this.#page ? "" : "whole=&"}${wish}`);
      this.#known = this.#page;
    });
  }

  /** @param {string} text */
  #take(text) {
    const answer = JSON.parse(text);
    const asked = this.#asked.get(answer.n);
    this.#asked.delete(answer.n);
    if (answer.wrong) asked?.failed(new Error(answer.wrong));
    // What differs from another page is nothing to this one.
    else if (asked && asked.page !== this.#page && answer.differs.length > 0) asked.done(this.ask(asked.wish));
    else asked?.done(answer);
  }
}

/** The same by a request of its own. @param {URLSearchParams} wish @returns {Promise<Answer>} */
async function request(wish) {
  const answer = await fetch(`/place/parts?${wish}`);
  const html = await answer.text();
  if (!answer.ok) throw new Error(html);
  const told = (/** @type {string} */ name) => answer.headers.get(`x-soapstone-${name}`) ?? "";
  return { address: told("address"), later: told("later") === "true", spent: NaN, html, differs: [] };
}
