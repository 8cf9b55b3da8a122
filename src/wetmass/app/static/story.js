// The concept told in sentences, with what was found beside what is asked and claimed.

import { at, el, key } from "./dom.js";
import { chip, chips } from "./chip.js";
import { keepEditor, saidWrong } from "./editor.js";
import { offered } from "./adding.js";
import { has, on, send } from "./wire.js";

/** @typedef {import("./types.js").Block} Block */
/** @typedef {import("./types.js").Sentence} Sentence */
/** @typedef {import("./types.js").Complaint} Complaint */
/** @typedef {import("./types.js").Message} Message */

/** @type {Message | null} */
let answer = null;
/** @type {any} what became of each stage in the last answer that was flown home */
let home = null;
let shape = "";

on("concept", (message) => {
  document.title = `${message.name?.value || message.file} – wetmass`;
  for (const field of fieldsOf(message)) has(field.path, field.value);
  const focus = focused(), active = document.activeElement;
  chips.clear();
  at("name").replaceChildren(chip(message.name));
  const story = at("story");
  story.replaceChildren(el("p", { class: "about" }, chip(message.story)), hint(message), ...message.blocks.map(told));
  shape = message.file;
  keepEditor(active);
  if (focus) chips.get(focus)?.button.focus({ preventScroll: true });
  if (answer) beside(answer);
  fates(home);
  mark();
});

/** How values are changed, until the first one was. @param {Message} message */
function hint(message) {
  const known = message.undo || localStorage.getItem("wetmass-hint") === "known";
  if (message.undo) localStorage.setItem("wetmass-hint", "known");
  return el("p", { class: "hint", hidden: Boolean(known) }, "Every underlined value can be changed: drag a number sideways, click it, or press ↑ and ↓. What comes of it shows above and beside.");
}

/** The path of the value that has the focus, so that it keeps it. */
function focused() {
  for (const [path, one] of chips) if (one.button === document.activeElement) return path;
  return "";
}

/** Every field of a message. @param {any} inside @returns {Generator<import("./types.js").Field>} */
function* fieldsOf(inside) {
  if (Array.isArray(inside)) for (const one of inside) yield* fieldsOf(one);
  else if (inside && typeof inside === "object") {
    if (Array.isArray(inside.path) && typeof inside.value === "string") yield inside;
    else for (const one of Object.values(inside)) yield* fieldsOf(one);
  }
}

/** @param {Sentence} sentence */
const said = (sentence) => el("p", {}, ...sentence.map((piece) => (typeof piece === "string" ? piece : chip(piece))));

/** @param {Block} block */
function told(block) {
  const heading = `block-${block.id}`;
  const inside = el("section", { class: `block ${block.kind}`, "aria-labelledby": heading });
  if (block.stage !== undefined && block.title) {
    inside.append(el("div", { class: "title-line" }, el("h2", { id: heading }, chip(block.title), el("span", { class: "quiet" }, " stage")), stageTools(block)));
  } else inside.append(el("h2", { id: heading }, block.heading));
  inside.append(...block.sentences.map(said));
  for (const part of block.parts ?? []) {
    const tools = partTools(part);
    inside.append(el("div", { class: `part ${part.kind}` }, ...part.sentences.map(said), opener(part, tools), tools));
  }
  for (const item of block.items ?? []) {
    const line = said(item.pieces);
    line.append(el("span", { class: "beside", "data-name": item.name }));
    line.append(small("Take away", `take away: ${item.name}`, () => send({ type: "remove", path: item.path, label: item.name })));
    inside.append(line);
  }
  if (block.stage !== undefined) inside.append(el("p", { class: "fate", "data-stage": block.stage, hidden: true }));
  inside.append(el("div", { class: "adds" }, ...adds(block)), el("div", { class: "block-wrong wrong", "data-path": key(block.path), role: "alert" }));
  return inside;
}

/** @param {Block} block */
function adds(block) {
  const made = [];
  if (block.kind === "require") made.push(offered("Ask something more", block.path, "require"));
  else if (block.kind === "claims") made.push(offered("Add a claim to check", block.path, "claim"));
  else made.push(offered(block.kind === "limits" ? "Add a limit" : "Say more", block.path, "key"));
  if (block.kind === "stage") {
    made.push(button("Add engines", () => send({ type: "add", what: "engine", path: block.path })));
    made.push(button("Add a tank", () => send({ type: "add", what: "tank", path: block.path })));
    if (block.last) made.push(button("Add a stage on top", () => send({ type: "add", what: "stage", path: [] }), "strong"));
  }
  return made;
}

/** @param {string} words @param {() => void} act @param {string} [kind] */
const button = (words, act, kind = "") => el("button", { type: "button", class: `add ${kind}`, onclick: act }, words);

/** @param {string} words @param {string} label @param {() => void} act @param {boolean} [off] */
const small = (words, label, act, off = false) =>
  el("button", { type: "button", class: "small-tool", "aria-label": label, title: label, onclick: act, disabled: off }, words);

/** @param {Block} block */
function stageTools(block) {
  const name = block.stage ?? "";
  return el("span", { class: "tools" },
    small("↑", `${name}: light it earlier`, () => send({ type: "move", path: block.path, by: -1, label: name }), block.first),
    small("↓", `${name}: light it later`, () => send({ type: "move", path: block.path, by: 1, label: name }), block.last),
    small("Double", `double ${name}`, () => send({ type: "copy", path: block.path, label: name })),
    small("Take away", `take away ${name}`, () => send({ type: "remove", path: block.path, label: name }), block.only));
}

/** What shows and hides the tools of a part. @param {Block} part @param {HTMLElement} tools */
function opener(part, tools) {
  const button = el("button", { type: "button", class: "dots", "aria-expanded": "false", "aria-label": `change ${part.kind} ${Number(part.path[part.path.length - 1]) + 1}` }, "⋯");
  tools.hidden = true;
  button.addEventListener("click", () => {
    tools.hidden = !tools.hidden;
    button.setAttribute("aria-expanded", String(!tools.hidden));
  });
  return button;
}

/** @param {Block} part */
function partTools(part) {
  const name = `${part.kind} ${Number(part.path[part.path.length - 1]) + 1}`;
  return el("div", { class: "adds" },
    offered("Say more", part.path, "key"),
    el("span", { class: "tools" },
      small("↑", `${name}: before the one above`, () => send({ type: "move", path: part.path, by: -1, label: name }), part.first),
      small("↓", `${name}: behind the one below`, () => send({ type: "move", path: part.path, by: 1, label: name }), part.last),
      small("Double", `double ${name}`, () => send({ type: "copy", path: part.path, label: name })),
      small("Take away", `take away ${name}`, () => send({ type: "remove", path: part.path, label: name }), part.kind === "engine" && part.only)));
}

// ── what came of it, in its place ──

/** @param {Message} message */
function beside(message) {
  answer = message;
  const stale = message.stage === "quick";
  const notes = new Map();
  for (const one of message.found ?? []) {
    const found = chips.get(key(one.path));
    if (!found || !found.field.found) continue;
    notes.set(found.note, ` ${one.text}${one.bound ? `, ${one.bound}` : ""}`);
    found.note.dataset.fix = one.text.replace(/[\u2009\u202f\u00a0]/g, " ");
  }
  for (const name of ["felt acceleration", "dynamic pressure", "q-alpha"]) {
    const held = (message.held ?? []).find((/** @type {any} */ one) => one.what === `greatest ${name}`);
    const limit = chips.get(key(["limits", name]));
    if (limit && held) notes.set(limit.note, ` reached ${held.got}${held.outcome === "binds" ? ", binds" : ""}`);
    else if (limit && stale) notes.set(limit.note, limit.note.textContent); // only a flight tells
  }
  for (const { note } of chips.values()) {
    const words = notes.get(note) ?? "";
    if (note.textContent !== words) note.textContent = words;
    note.classList.toggle("stale", stale);
  }
  for (const place of document.querySelectorAll(".beside")) {
    const name = place.getAttribute("data-name");
    const held = (message.held ?? []).find((/** @type {any} */ one) => one.what === name);
    const claim = (message.claims ?? []).find((/** @type {any} */ one) => one.name === name);
    place.className = "beside";
    place.classList.toggle("stale", stale);
    if (held) {
      place.textContent = ` ${held.got} – ${{ kept: "kept", binds: "binds", broken: "not kept" }[/** @type {"kept"} */ (held.outcome)]}`;
      place.classList.add(held.outcome);
    } else if (claim && claim.found) {
      place.textContent = ` found ${claim.found} – ${claim.agrees ? "it agrees" : `off by ${claim.off}`}`;
      place.classList.add(claim.agrees ? "kept" : "broken");
    } else place.textContent = "";
  }
}

/** What becomes of each stage, below what is said of it. @param {any} home */
function fates(home) {
  for (const line of document.querySelectorAll(".fate")) {
    const name = line.getAttribute("data-stage");
    const one = (home?.ways ?? []).find((/** @type {any} */ way) => way.stage === name);
    const why = (home?.not_flown ?? []).find((/** @type {string[]} */ [stage]) => stage === name)?.[1] ?? "";
    /** @type {HTMLElement} */ (line).hidden = !one && !why;
    line.textContent = one ? `${one.short}${one.lacks ? "; what it keeps does not settle it" : ""}` : why;
    line.classList.toggle("fails", Boolean(one?.fails));
  }
}

on("fresh", () => { answer = home = null; wrong = []; });
on("quick", beside);
on("flown", (message) => {
  wrong = [];
  mark();
  beside(message);
  if (message.complete) fates((home = message.home));
});

/** @type {Complaint[]} */
let wrong = [];

/** Every complaint in its place; those without one are told at their block. */
function mark() {
  for (const one of document.querySelectorAll(".chip.is-wrong")) {
    one.classList.remove("is-wrong");
    one.removeAttribute("aria-invalid");
    one.removeAttribute("aria-describedby");
  }
  for (const one of document.querySelectorAll("p.in-place")) one.remove();
  for (const one of document.querySelectorAll(".block-wrong")) one.replaceChildren();
  wrong.forEach((one, number) => {
    const found = chips.get(key(one.path));
    const words = saidWrong(one);
    if (found) {
      const id = `wrong-${number}`;
      found.button.classList.add("is-wrong");
      found.button.setAttribute("aria-invalid", "true");
      found.button.setAttribute("aria-describedby", id);
      (found.button.closest("p, h1, .title-line") ?? found.button).after(el("p", { class: "wrong in-place", id, role: "alert" }, words));
      return;
    }
    const blocks = [...document.querySelectorAll(".block-wrong")];
    const path = one.path.slice(0, 2);
    const place = blocks.find((block) => block.getAttribute("data-path") === key(path)) ?? blocks[0];
    place?.append(el("p", {}, `${one.field}: ${words}`));
  });
}

on("wrong", (message) => {
  wrong = message.complaints;
  mark();
});
export { shape };
