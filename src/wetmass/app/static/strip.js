// What stays in sight: the verdict, the numbers, and what they were before the last change.

import { at, el } from "./dom.js";
import { lead } from "./panels.js";
import { on } from "./wire.js";

/** @typedef {import("./types.js").Message} Message */
/** @typedef {import("./types.js").Numbered} Numbered */

/** @param {Message} message @param {string} how */
function tell(message, how) {
  const verdict = at("verdict");
  says(verdict, message.verdict);
  verdict.classList.toggle("fails", !message.closes);
  says(at("because"), message.because);
  stands(how);
  const there = new Set(message.numbers.map((/** @type {Numbered} */ one) => one.key));
  for (const [key, one] of tiles) {
    one.whole.classList.toggle("stale", !there.has(key)); // only a flight tells these
    if (how !== "quick" && !there.has(key)) takeAway(key);
  }
  for (const one of message.numbers) fill(tiles.get(one.key) ?? tile(one.key), one);
  const order = message.numbers.map((/** @type {Numbered} */ one) => tiles.get(one.key)?.whole);
  const moved = order.some((/** @type {Element} */ one, /** @type {number} */ i) => at("numbers").children[i] !== one);
  if (how === "flown" && moved) at("numbers").append(...order);
}

/** Words put in a place, where they are not there already. @param {Element} place @param {string} words */
function says(place, words) {
  if (place.textContent !== words) place.textContent = words;
}

/** How fresh what is shown is: "flown", "quick" or "stale". @param {string} how */
function stands(how) {
  document.documentElement.dataset.answer = how;
}

/** @typedef {{whole: HTMLElement, label: HTMLElement, spread: HTMLElement, now: HTMLElement, then: HTMLElement, was: HTMLElement}} Tile */
/** @type {Map<string, Tile>} filled again at each answer, so that the focus and the layout stay */
const tiles = new Map();

/** An empty tile for a number. @param {string} key @returns {Tile} */
function tile(key) {
  const label = el("span", {}), now = el("button", { type: "button", class: "lead", onclick: () => lead(key) });
  const made = { label, now, spread: el("span", { class: "spread" }), then: el("dd", { class: "then" }), was: el("dd", { class: "was" }), whole: el("div", { "data-key": key }) };
  made.whole.append(el("dt", {}, label, made.spread), el("dd", { class: "now" }, now), made.then, made.was);
  at("numbers").append(made.whole);
  tiles.set(key, made);
  return made;
}

/** @param {string} key */
function takeAway(key) {
  tiles.get(key)?.whole.remove();
  tiles.delete(key);
}

/** @param {Tile} tile @param {Numbered} one */
function fill(tile, one) {
  const better = one.change && one.more ? (one.change.startsWith("+") === one.more > 0 ? "better" : "worse") : "";
  const looks = `tile ${better} ${one.was === undefined ? "" : "compared"}`;
  if (tile.whole.className !== looks) tile.whole.className = looks;
  if (tile.label.textContent !== one.label) {
    tile.label.textContent = one.label;
    tile.now.title = `where “${one.label}” comes from`;
  }
  says(tile.now, one.text);
  const change = one.change ? `${one.change}${one.share ? `, ${one.share}` : ""}` : "";
  says(tile.then, change || (one.was !== undefined ? "as before" : "\u00a0"));
  tile.then.classList.toggle("moved", Boolean(change));
  says(tile.was, one.change ? `was ${one.was}` : "\u00a0");
}

/** How far a number may be off, beside its name. @param {any} told */
function spread(told) {
  for (const [key, { spread }] of tiles) says(spread, told && key === told.key ? ` ${told.text}` : "");
  const place = told && tiles.get(told.key)?.spread;
  if (!place) return;
  const parts = told.parts.slice(0, 3).map((/** @type {string[]} */ [where, stated, moves]) => `${where}, ${stated}: ${moves}`);
  place.title = `two standard deviations, to first order, by the guesses of the file. ${parts.join("; ")}`;
}

// what hangs below the strip must know its height
let height = 0;
new ResizeObserver(() => {
  if (at("strip").offsetHeight === height) return;
  height = at("strip").offsetHeight;
  document.documentElement.style.setProperty("--strip", `${height}px`);
}).observe(at("strip"));

on("quick", (message) => tell(message, "quick"));
on("flown", (message) => {
  tell(message, "flown");
  if (message.complete) {
    spread(message.spread);
    says(at("spoken"), message.verdict); // read aloud once all is known, not at every value of a drag
  }
  delete document.documentElement.dataset.home;
});
on("fresh", (message) => {
  says(at("verdict"), `${message.file} is computed from nothing; its first answer takes some seconds.`);
  at("verdict").classList.remove("fails");
  says(at("because"), "");
  for (const key of tiles.keys()) takeAway(key);
});
on("homing", () => { document.documentElement.dataset.home = "flying"; });
for (const type of ["stale", "value"])
  on(type, () => {
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
