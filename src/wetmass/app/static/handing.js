// Lesson, frames and tables: made by a button, with progress, and ended by another.

import { el } from "./dom.js";
import { on, send } from "./wire.js";

const KINDS = [
  ["page", "Lesson, as a page", "one HTML file with drawings, charts and every step; needs no network"],
  ["paper", "Lesson, on paper", "the same as PDF, A4"],
  ["frames", "Frames for a screen", "one step or picture a frame, as PNG"],
  ["film", "Film of the flight", "up and home, 24 s, as MP4"],
  ["workbook", "Workbook", "a spreadsheet whose formulas live"],
  ["flight", "Flight table", "the trajectory as CSV, in SI"],
  ["working", "Working as a script", "every step as text that can be checked again"],
];

/** @param {HTMLElement} panel */
export function handing(panel) {
  const bar = /** @type {HTMLProgressElement} */ (el("progress", { max: "1", "aria-label": "how far it is" }));
  const words = el("p", { role: "status" });
  const cancel = el("button", { type: "button", class: "plain", onclick: () => send({ type: "unmake" }) }, "Cancel");
  const going = el("div", { class: "row going", hidden: true }, bar, cancel);
  const files = el("ul", { class: "files", "aria-label": "Written in this folder" });
  const buttons = KINDS.map(([what, label, about]) =>
    el("button", { type: "button", class: "make", onclick: () => send({ type: "make", what }) }, el("b", {}, label), el("span", { class: "quiet" }, about)));
  panel.append(el("h2", {}, "Hand out"), el("p", { class: "quiet" }, "Each is made of the concept as it is here, saved or not, and written beside its file."),
    el("div", { class: "makes" }, ...buttons), going, words, files);
  /** @param {boolean} off */
  const busy = (off) => {
    going.hidden = !off;
    for (const one of buttons) /** @type {HTMLButtonElement} */ (one).disabled = off;
  };
  on("making", (message) => {
    busy(true);
    words.textContent = `${message.words.slice(0, 1).toUpperCase()}${message.words.slice(1)} …`;
    if (typeof message.share === "number") bar.value = message.share;
    else bar.removeAttribute("value");
  });
  on("made", (message) => {
    busy(false);
    words.textContent = message.words;
    for (const name of message.files) {
      for (const one of [...files.children]) if (one.getAttribute("data-name") === name) one.remove();
      files.append(el("li", { "data-name": name }, /\.\w+$/.test(name) ? el("a", { href: `/made/${encodeURIComponent(name)}`, download: name }, name) : name));
    }
  });
  on("connected", () => busy(false));
}
