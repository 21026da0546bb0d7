// Asks the server for parts of the page: over a line that stays open where there is one, which takes a third of the time
// of a request and brings only what differs from the answer before; else by a request.

/**
 * @typedef {{ at: number[], text?: string, set?: [string, string | null][], like?: string }} Change
 * @typedef {{ address: string, later: boolean, spent: number, html: string, differs: [string, Change[]][] }} Answer
 * @typedef {{ wish: string, done: (answer: Answer | Promise<Answer>) => void, failed: (why: Error) => void }} Asked
 */

export class Line {
  /** @type {WebSocket | null} */
  #socket = null;
  /** Questions that wait for their answer, by number. @type {Map<string, Asked>} */
  #asked = new Map();
  #last = 0;
  /** Whether the page is as the last answer on the line left it. */
  #known = false;

  /** Opens the line, so that it is there when a hand moves. */
  open() {
    const at = new URL("/place/moving", location.href);
    at.protocol = at.protocol === "https:" ? "wss:" : "ws:";
    const socket = new WebSocket(at);
    socket.onmessage = (event) => this.#take(event.data);
    socket.onclose = () => {
      if (this.#socket === socket) this.#socket = null;
      // What was asked is asked in the other way, which also tells what is wrong.
      for (const { wish, done } of this.#asked.values()) done(request(wish));
      this.#asked.clear();
    };
    this.#socket = socket;
    this.#known = false;
  }

  /** The page has become another one by other ways: the next answer has to be whole. */
  forget() {
    this.#known = false;
  }

  /** @param {URLSearchParams} wish @returns {Promise<Answer>} */
  ask(wish) {
    const socket = this.#socket;
    if (socket?.readyState !== WebSocket.OPEN) {
      if (!socket) this.open();
      this.#known = false;
      return request(String(wish));
    }
    const n = String(++this.#last);
    return new Promise((done, failed) => {
      this.#asked.set(n, { wish: String(wish), done, failed });
      socket.send(`n=${n}&${this.#known ? "" : "whole=&"}${wish}`);
      this.#known = true;
    });
  }

  /** @param {string} text */
  #take(text) {
    const answer = JSON.parse(text);
    const asked = this.#asked.get(answer.n);
    this.#asked.delete(answer.n);
    if (answer.wrong) asked?.failed(new Error(answer.wrong));
    else asked?.done(answer);
  }
}

/** The same by a request of its own. @param {string} wish @returns {Promise<Answer>} */
async function request(wish) {
  const answer = await fetch(`/place/parts?${wish}`);
  const html = await answer.text();
  if (!answer.ok) throw new Error(html);
  const told = (/** @type {string} */ name) => answer.headers.get(`x-soapstone-${name}`) ?? "";
  return { address: told("address"), later: told("later") === "true", spent: NaN, html, differs: [] };
}
