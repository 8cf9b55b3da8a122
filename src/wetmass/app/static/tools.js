// Buttons and keys of the whole page: undo, save, pin, files, units, look, full screen.

import { at, el } from "./dom.js";
import { redraw } from "./charts.js";
import { closeEditor } from "./editor.js";
import { SIDE, choose } from "./panels.js";
import { after, now, on, open, send } from "./wire.js";

/** @typedef {import("./types.js").Message} Message */

/** @param {string} id @param {string} words @param {string} keys @param {() => void} act */
const tool = (id, words, keys, act) =>
  el("button", { type: "button", id, class: "tool", title: keys ? `${words} (${keys})` : words, onclick: act }, words);

const undo = tool("undo", "Undo", "Ctrl+Z", () => after({ type: "undo" }));
const redo = tool("redo", "Redo", "Ctrl+Shift+Z", () => after({ type: "redo" }));
const save = tool("save", "Save", "Ctrl+S", () => keep());
const pin = tool("pin", "Pin", "Ctrl+Shift+P", () => { send({ type: "pin" }); choose("compare"); });
const more = tool("menu-button", "More", "", () => toggle());
const menu = el("div", { id: "menu", hidden: true });
more.setAttribute("aria-expanded", "false");
more.setAttribute("aria-controls", "menu");
at("tools").append(undo, redo, save, pin, more, menu);

/** @param {boolean} [shows] */
function toggle(shows = Boolean(menu.hidden)) {
  menu.hidden = !shows;
  more.setAttribute("aria-expanded", String(shows));
  if (shows) /** @type {HTMLElement | null} */ (menu.querySelector("button, select, input"))?.focus();
}
menu.addEventListener("keydown", (event) => {
  if (event.key !== "Escape") return;
  toggle(false);
  more.focus();
});
document.addEventListener("pointerdown", (event) => {
  if (!menu.hidden && event.target instanceof Node && !menu.contains(event.target) && event.target !== more) toggle(false);
});

// ── the menu ──

const LOOKS = ["as the system", "light", "dark"];
/** @param {string} look */
function wears(look) {
  if (look === "as the system") delete document.documentElement.dataset.look;
  else document.documentElement.dataset.look = look;
  localStorage.setItem("wetmass-look", look);
  redraw();
}
wears(localStorage.getItem("wetmass-look") ?? LOOKS[0]);
matchMedia("(prefers-color-scheme: dark)").addEventListener("change", redraw);

/** @param {string} label @param {string[]} options @param {string} value @param {(value: string) => void} act */
function choice(label, options, value, act) {
  const list = /** @type {HTMLSelectElement} */ (el("select", {}, ...options.map((one) => el("option", { value: one, selected: one === value }, one))));
  list.addEventListener("change", () => act(list.value));
  return el("label", { class: "row" }, el("span", {}, label), list);
}

/** @param {Message} message */
function fill(message) {
  const name = /** @type {HTMLInputElement} */ (el("input", { type: "text", "aria-label": "name of the new file", value: message.proposed, maxlength: "90" }));
  const source = /** @type {HTMLTextAreaElement} */ (el("textarea", { rows: "14", spellcheck: "false", "aria-label": "the file as text" }));
  source.value = message.text;
  menu.replaceChildren(
    choice("Open", message.files, message.file, (file) => { toggle(false); location.hash = `file=${encodeURIComponent(file)}`; }),
    el("div", { class: "row" }, el("span", {}, "Save as"), name, el("button", { type: "button", class: "plain", onclick: () => send({ type: "save", as: name.value }) }, "Save as")),
    choice("Units of results", ["metric", "feet and pounds"], message.system, (system) => send({ type: "units", system })),
    choice("Look", LOOKS, localStorage.getItem("wetmass-look") ?? LOOKS[0], wears),
    el("div", { class: "row" }, el("button", { type: "button", class: "plain", onclick: teach }, "Full screen, for teaching (F9)")),
    el("details", {}, el("summary", {}, "The file as text"), source,
      el("button", { type: "button", class: "plain", onclick: () => send({ type: "text", text: source.value }) }, "Take this text")),
    el("details", {}, el("summary", {}, "Keys"), el("dl", { class: "keys" }, ...KEYS.flatMap(([keys, words]) => [el("dt", {}, keys), el("dd", {}, words)]))));
}

const KEYS = [
  ["↑ ↓", "nudge the value that has the focus; with Shift ten times as far"], ["Enter", "open the value; again or Esc to close"],
  ["Tab", "to the next value"], ["Ctrl+Z, Ctrl+Shift+Z", "undo, redo"], ["Ctrl+S", "save"], ["Ctrl+Shift+P", "pin this version"],
  [`Alt+1 … Alt+${SIDE.length}`, SIDE.map(([, words]) => words.toLowerCase()).join(", ")], ["F9", "full screen, for teaching"],
];

/** Larger, and nothing else on the screen. */
function teach() {
  const on_ = document.documentElement.dataset.teaching !== "yes";
  document.documentElement.dataset.teaching = on_ ? "yes" : "no";
  if (on_) void document.documentElement.requestFullscreen?.().catch(() => {});
  else if (document.fullscreenElement) void document.exitFullscreen();
  redraw();
}
document.addEventListener("fullscreenchange", () => {
  if (!document.fullscreenElement) document.documentElement.dataset.teaching = "no";
});

document.addEventListener("keydown", (event) => {
  const command = event.ctrlKey || event.metaKey;
  const typing = event.target instanceof HTMLTextAreaElement || (event.target instanceof HTMLInputElement && event.target.type === "text");
  const pressed = event.key.toLowerCase();
  if (command && pressed === "s") keep();
  else if (command && event.shiftKey && pressed === "p") { send({ type: "pin" }); choose("compare"); }
  else if (command && !typing && pressed === "z") after({ type: event.shiftKey ? "redo" : "undo" });
  else if (command && !typing && pressed === "y") after({ type: "redo" });
  else if (event.altKey && SIDE[Number(event.key) - 1]) choose(SIDE[Number(event.key) - 1][0]);
  else if (event.key === "F9") teach();
  else return;
  event.preventDefault();
});

window.addEventListener("hashchange", () => {
  const file = new URLSearchParams(location.hash.slice(1)).get("file") ?? "";
  if (file !== now.file) open(file);
});

// ── how the file stands ──

/** Save what is here, what is being typed too. */
function keep() {
  closeEditor();
  after({ type: "save" });
}

on("which", (message) => { // the vehicle has another name than the file had
  const question = notice(`The vehicle has another name than in ${now.file}.`, [
    [`Save as ${message.proposed}.yaml, and leave ${now.file} as it was`, () => send({ type: "save", as: message.proposed })],
    [`Save in ${now.file}`, () => send({ type: "save", sure: true })],
  ]);
  question.classList.add("question");
  at("notices").replaceChildren(question);
  question.querySelector("button")?.focus();
});

/** @param {Message} message */
function stands(message) {
  /** @type {HTMLButtonElement} */ (undo).disabled = !message.undo;
  /** @type {HTMLButtonElement} */ (redo).disabled = !message.redo;
  undo.title = message.undo ? `Undo: ${message.undo} (Ctrl+Z)` : "Nothing to undo";
  redo.title = message.redo ? `Redo: ${message.redo} (Ctrl+Shift+Z)` : "Nothing to do again";
  save.classList.toggle("due", message.unsaved);
  at("state").textContent = `${now.file} – ${message.unsaved ? "changes not saved yet, kept as a draft" : "saved"}`;
}
on("concept", (message) => {
  now.file = message.file;
  if (!location.hash.includes(encodeURIComponent(message.file))) history.replaceState(null, "", `#file=${encodeURIComponent(message.file)}`);
  stands(message);
  if (menu.hidden) fill(message);
  const notices = [];
  if (message.notice) notices.push(notice(message.notice));
  if (message.asks)
    notices.push(notice("The file was changed on the disk, in the same lines as here.", [
      ["Keep what is here", () => send({ type: "settle", take: "ours" })], ["Take the file", () => send({ type: "settle", take: "theirs" })],
    ]));
  const question = at("notices").querySelector(".question"); // stays until it is answered
  if (question && message.renamed) notices.push(/** @type {HTMLElement} */ (question));
  at("notices").replaceChildren(...notices);
});
on("value", stands);
on("saved", (message) => at("notices").append(notice(message.words)));

/** @param {string} words @param {[string, () => void][]} [acts] */
function notice(words, acts = []) {
  const made = el("div", { class: "notice" }, el("span", {}, words), ...acts.map(([label, act]) => el("button", { type: "button", class: "plain", onclick: act }, label)),
    acts.length ? null : el("button", { type: "button", class: "plain", "aria-label": "close this notice", onclick: () => made.remove() }, "Close"));
  return made;
}
on("refused", (message) => {
  if (message.about && document.querySelector(".editor")) return;
  at("notices").replaceChildren(...message.complaints.map((/** @type {any} */ one) => notice(`${one.field}: got ${one.got}. Accepted: ${one.accepted}. To do: ${one.remedy}.`)));
});
on("overtaken", (message) => {
  at("notices").replaceChildren(notice(`Another page was faster: this value is ${message.now || "not said"} now. Yours was ${message.value}.`));
});
on("broken", (message) => {
  document.documentElement.dataset.answer = "stale";
  at("notices").replaceChildren(notice(`The line to wetmass is broken${message.words ? `: ${message.words}` : ""}. It is tried again; nothing you typed is lost.`));
});
on("connected", () => at("notices").replaceChildren());
