// Run in the page while a mark is pressed: moves the pointer and times each move until its frame is painted.
const [x, y, moves, done] = arguments;
const figure = document.querySelector("#part-side");
const paint = [];
const answer = [];
const swap = [];
const follow = [];
const server = [];

/** Resolves once the next frame has been painted: a message sent from its beginning waits behind its painting. */
const painted = () => new Promise((shown) => {
  const channel = new MessageChannel();
  channel.port1.onmessage = () => shown(performance.now());
  requestAnimationFrame(() => channel.port2.postMessage(null));
});
document.addEventListener("soapstone-followed", () => void painted().then((at) => follow.push(at - moved)));
let moved = 0;
const next = () => new Promise((shown) => document.addEventListener("soapstone-shown", shown, { once: true }));

/** At any time within a frame, as a hand does. The seed is fixed. */
let seed = 1;
const chance = () => (seed = (seed * 16807) % 2147483647) / 2147483647;

(async () => {
  for (let i = 0; i < moves; i++) {
    await new Promise((then) => setTimeout(then, 12 + 25 * chance()));
    const angle = i / 9;
    const at = { clientX: x + 24 * Math.sin(angle), clientY: y - 30 + 25 * Math.cos(angle) };
    const shown = next();
    const begun = (moved = performance.now());
    figure.dispatchEvent(new PointerEvent("pointermove", { ...at, pointerId: 1, bubbles: true, buttons: 1 }));
    const { answered, spent } = (await shown).detail;
    swap.push(performance.now() - answered);
    paint.push((await painted()) - begun);
    answer.push(answered - begun);
    server.push(spent);
  }
  done({ paint, server, answer, swap, follow });
})();
