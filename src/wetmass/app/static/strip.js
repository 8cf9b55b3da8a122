// What stays in sight: the verdict, the numbers, and what they were before the last change.

import { at, el } from "./dom.js";
import { on } from "./wire.js";

/** @typedef {import("./types.js").Message} Message */
/** @typedef {import("./types.js").Numbered} Numbered */

/** @param {Message} message @param {string} how */
function tell(message, how) {
  const verdict = at("verdict");
  verdict.textContent = message.verdict;
  verdict.classList.toggle("fails", !message.closes);
  at("because").textContent = message.because;
  stands(how);
  at("numbers").replaceChildren(...message.numbers.map(tile));
}

/** How fresh what is shown is: "flown", "quick" or "stale". @param {string} how */
function stands(how) {
  document.documentElement.dataset.answer = how;
}

/** @param {Numbered} one */
function tile(one) {
  const better = one.change && one.more ? (one.change.startsWith("+") === one.more > 0 ? "better" : "worse") : "";
  return el("div", { class: `tile ${better}`, "data-key": one.key },
    el("dt", {}, one.label),
    el("dd", { class: "now" }, one.text),
    el("dd", { class: "then" }, one.change ? el("b", {}, `${one.change}${one.share ? `, ${one.share}` : ""}`) : one.was !== undefined ? "as before" : " "),
    el("dd", { class: "was" }, one.change ? `was ${one.was}` : " "));
}

on("quick", (message) => tell(message, "quick"));
on("flown", (message) => tell(message, "flown"));
on("stale", () => stands("stale"));
on("busy", (message) => {
  at("because").textContent = `${message.words.slice(0, 1).toUpperCase()}${message.words.slice(1)} …`;
});
on("wrong", (message) => {
  stands("wrong");
  const count = message.complaints.length;
  at("because").textContent = `${count === 1 ? "One value" : `${count} values`} cannot be taken yet; shown is the last answer.`;
});
for (const type of ["ended", "defect"])
  on(type, (message) => {
    stands("wrong");
    at("because").textContent = type === "defect" ? `This is a defect in the program, please report it: ${message.words}` : message.words;
  });
