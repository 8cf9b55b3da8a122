// What becomes of every stage that is let go, and what coming home costs.

import { el } from "./dom.js";
import { table } from "./table.js";
import { on } from "./wire.js";

/** @param {HTMLElement} panel */
export function homes(panel) {
  const empty = () => panel.replaceChildren(el("p", { class: "quiet" }, "What becomes of every stage appears here once it was flown home."));
  empty();
  on("fresh", empty);
  on("flown", (message) => {
    if (!message.complete) return;
    panel.replaceChildren(el("h2", {}, "What becomes of every stage"));
    if (!message.home) {
      panel.append(el("p", {}, "Nothing was flown home, since it does not close."));
      return;
    }
    panel.append(el("p", {}, message.home.price), ...message.home.ways.flatMap(way),
      ...message.home.not_flown.map((/** @type {string[]} */ [stage, why]) => el("p", {}, el("b", {}, stage), why ? `: ${why}.` : "")));
  });
}

/** @param {any} one */
const way = (one) => [
  el("h3", { class: one.fails ? "fails" : "" }, `${one.count > 1 ? `${one.count} × ` : ""}${one.stage}`, el("span", { class: "quiet" }, ` – ${one.outcome}`)),
  one.lacks ? el("p", { class: "wrong" }, `What it keeps does not settle it: ${one.lacks}.`) : "",
  el("dl", { class: "facts" }, ...one.rows.flatMap((/** @type {string[]} */ [what, words]) => [el("dt", {}, what), el("dd", {}, words)])),
  table(`The way down of ${one.stage}, event by event`, ["time", "event", "height", "speed", "pressure", "felt"], one.events, 2),
  one.assumed.length ? el("p", { class: "quiet small" }, `Assumed: ${one.assumed.join("; ")}.`) : "",
];
