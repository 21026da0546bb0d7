// Run in the page while a mark is pressed: moves the pointer and times each move until its frame is painted.
const [x, y, moves, done] = arguments;
const figure = document.querySelector("#part-side");
const paint = [];
const answer = [];
const swap = [];
const follow = [];
performance.setResourceTimingBufferSize(4000);
performance.clearResourceTimings();

/** Resolves once the next frame has been painted: a message sent from its beginning waits behind its painting. */
const painted = () => new Promise((shown) => {
  const channel = new MessageChannel();
  channel.port1.onmessage = () => shown(performance.now());
  requestAnimationFrame(() => channel.port2.postMessage(null));
});
document.addEventListener("soapstone-followed", () => void painted().then((at) => follow.push(at - moved)));
let moved = 0;
/** Answers that the pointer waits for. */
const answers = () => performance.getEntriesByType("resource")
  .filter((e) => e.name.includes("/place/parts") && !e.name.includes("share=car"));
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
    await shown;
    const swapped = performance.now();
    paint.push((await painted()) - begun);
    const last = answers().at(-1);
    if (last) answer.push(last.responseEnd - begun);
    if (last) swap.push(swapped - last.responseEnd);
  }
  const server = answers().flatMap((e) => e.serverTiming.map((t) => t.duration));
  done({ paint, server, answer, swap, follow });
})();
