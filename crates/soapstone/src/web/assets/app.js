// Starts what the page needs. Everything works without this, only less quickly.
import { Parts } from "./parts.js";
import { Drag } from "./drag.js";
import { Live } from "./live.js";
import { Send } from "./send.js";
import { Meaning } from "./meaning.js";
import { Play } from "./play.js";
import { Turn } from "./turn.js";
import { Cells } from "./cells.js";
import { Lines } from "./lines.js";
import { Paste } from "./paste.js";
import { Sights } from "./sights.js";

document.documentElement.classList.add("scripted");

const parts = new Parts();
const send = new Send(parts);
new Live(parts).connect();
send.connect();
new Meaning().connect();
if (document.body.dataset.stage === "place") {
  parts.line.open();
  new Drag(parts).connect();
  new Play(parts).connect();
  new Turn(parts).connect();
  parts.fit();
}
if (["weigh", "stop", "balance", "drive"].includes(document.body.dataset.stage ?? "")) new Cells(parts, send).connect();
if (document.body.dataset.stage === "measure") {
  new Cells(parts, send).connect();
  new Paste(parts).connect();
  new Sights().connect();
  new Lines().connect();
}
