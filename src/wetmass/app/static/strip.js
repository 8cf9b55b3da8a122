// What stays in sight: the verdict, the numbers, and what they were before the last change.

import { at, el } from "./dom.js";
import { lead } from "./panels.js";
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
  const made = new Map(message.numbers.map((/** @type {Numbered} */ one) => [one.key, tile(one)]));
  const kept = how === "quick" ? [...document.querySelectorAll("#numbers .tile")].filter((one) => !made.has(one.getAttribute("data-key"))) : [];
  for (const one of kept) one.classList.add("stale"); // only a flight tells these
  at("numbers").replaceChildren(...made.values(), ...kept);
}

/** How fresh what is shown is: "flown", "quick" or "stale". @param {string} how */
function stands(how) {
  document.documentElement.dataset.answer = how;
}

/** @param {Numbered} one */
function tile(one) {
  const better = one.change && one.more ? (one.change.startsWith("+") === one.more > 0 ? "better" : "worse") : "";
  return el("div", { class: `tile ${better} ${one.was === undefined ? "" : "compared"}`, "data-key": one.key },
    el("dt", {}, one.label),
    el("dd", { class: "now" }, el("button", { type: "button", class: "lead", title: `where “${one.label}” comes from`, onclick: () => lead(one.key) }, one.text)),
    el("dd", { class: "then" }, one.change ? el("b", {}, `${one.change}${one.share ? `, ${one.share}` : ""}`) : one.was !== undefined ? "as before" : " "),
    el("dd", { class: "was" }, one.change ? `was ${one.was}` : " "));
}

/** How far a number may be off, beside its name. @param {any} told */
function spread(told) {
  const place = told && document.querySelector(`.tile[data-key="${told.key}"] dt`);
  if (!place) return;
  const parts = told.parts.slice(0, 3).map((/** @type {string[]} */ [where, stated, moves]) => `${where}, ${stated}: ${moves}`);
  place.append(el("span", { class: "spread", title: `two standard deviations, to first order, by the guesses of the file. ${parts.join("; ")}` }, ` ${told.text}`));
}

// what hangs below the strip must know its height
new ResizeObserver(() => document.documentElement.style.setProperty("--strip", `${at("strip").offsetHeight}px`)).observe(at("strip"));

on("quick", (message) => tell(message, "quick"));
on("flown", (message) => {
  tell(message, "flown");
  spread(message.spread);
  delete document.documentElement.dataset.home;
});
on("homing", () => { document.documentElement.dataset.home = "flying"; });
on("stale", () => {
  stands("stale");
  delete document.documentElement.dataset.home;
});
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
