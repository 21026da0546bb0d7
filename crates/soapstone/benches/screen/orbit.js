// Turns the view in space by a steady hand; times from frame to frame, and what one drawing takes.
const done = arguments[arguments.length - 1];
const canvas = document.querySelector("#solid-view canvas");
canvas.scrollIntoView({ block: "center" });
canvas.focus();
const gl = canvas.getContext("webgl2");
const frames = [];
const draws = [];
const turn = () => canvas.dispatchEvent(new KeyboardEvent("keydown", { key: "ArrowLeft", bubbles: true }));
let last = 0;
let count = 0;
const step = (now) => {
  if (last && count <= 120) frames.push(now - last);
  last = now;
  if (count++ < 120) {
    turn();
    requestAnimationFrame(step);
  } else if (count < 150) {
    // After the view's own frame: reading a pixel waits for the drawing.
    turn();
    requestAnimationFrame(() => {
      const begun = performance.now();
      gl.readPixels(0, 0, 1, 1, gl.RGBA, gl.UNSIGNED_BYTE, new Uint8Array(4));
      draws.push(performance.now() - begun);
      requestAnimationFrame(step);
    });
  } else done({ frames, draws });
};
requestAnimationFrame(step);
