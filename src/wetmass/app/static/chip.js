// One value in a sentence: dragged sideways, nudged with the arrow keys, opened with Enter.

import { el, key } from "./dom.js";
import { openEditor } from "./editor.js";
import { nudged, composed, reread } from "./value.js";
import { ended, set } from "./wire.js";

/** @typedef {import("./types.js").Field} Field */

/** @type {Map<string, {field: Field, button: HTMLElement, note: HTMLElement}>} every value in sight by its path */
export const chips = new Map();
let gestures = 0;

/** A name for the next run of changes that are one step to undo. */
export const gesture = () => `${Date.now().toString(36)}-${++gestures}`;

/**
 * @param {Field} field
 * @returns {HTMLElement}
 */
export function chip(field) {
  const note = el("span", { class: "note" });
  const button = el("button", {
    type: "button", class: "chip", "data-kind": field.kind,
    "aria-haspopup": "dialog",
    "aria-keyshortcuts": steppable(field) ? "ArrowUp ArrowDown" : undefined,
  });
  const made = { field, button, note };
  chips.set(key(field.path), made);
  button.addEventListener("click", () => openEditor(made.field, button));
  button.addEventListener("keydown", (event) => pressed(event, made));
  if (steppable(field)) scrubbed(button, made);
  show(made);
  return el("span", { class: "value" }, button, note);
}

/** @param {Field} field */
const steppable = (field) => field.kind === "quantity" || field.kind === "whole";

/** @param {{field: Field, button: HTMLElement}} one */
function show(one) {
  const { field, button } = one;
  const plain = { true: "yes", false: "no" }[field.value] ?? field.value;
  const shown = field.found ? "open" : plain || "—";
  if (button.textContent !== shown) button.textContent = shown;
  button.classList.toggle("open", Boolean(field.found));
  button.setAttribute("aria-label", `${field.label}: ${field.found ? "open, to be found" : field.value || "nothing"}`);
}

/**
 * A value as it is now, from whichever page it was changed.
 * @param {(string | number)[]} path
 * @param {string} value
 */
export function told(path, value) {
  const one = chips.get(key(path));
  if (!one || one.field.value === value) return;
  one.field = reread(one.field, value);
  show(one);
}

/**
 * Change a value at once here, and on its way to the server.
 * @param {{field: Field, button: HTMLElement}} one
 * @param {string} value
 * @param {string} within  the gesture
 */
export function put(one, value, within) {
  one.field = reread(one.field, value);
  show(one);
  set(one.field.path, value, one.field.label, within);
}

let run = { path: "", gesture: "", timer: 0 };

/** @param {KeyboardEvent} event @param {{field: Field, button: HTMLElement}} one */
function pressed(event, one) {
  const steps = { ArrowUp: 1, ArrowDown: -1, PageUp: 10, PageDown: -10 }[event.key];
  if (steps === undefined || event.altKey || event.ctrlKey || event.metaKey) return;
  const moved = nudged(one.field, event.shiftKey ? steps * 10 : steps);
  if (moved === null) return;
  event.preventDefault();
  const path = key(one.field.path);
  if (run.path !== path) run = { path, gesture: gesture(), timer: 0 };
  clearTimeout(run.timer);
  run.timer = window.setTimeout(rested, 900);
  put(one, composed(one.field, { number: moved }), run.gesture);
}

function rested() {
  if (!run.path) return;
  run = { path: "", gesture: "", timer: 0 };
  ended();
}

/** @param {HTMLElement} button @param {{field: Field, button: HTMLElement}} one */
function scrubbed(button, one) {
  button.addEventListener("pointerdown", (down) => {
    if (down.button !== 0 || one.field.number === undefined) return;
    const start = down.clientX, from = String(one.field.number).replace(/[\s,]/g, "");
    const each = one.field.kind === "whole" ? 14 : 7;
    let within = "";
    /** @param {PointerEvent} move */
    const moved = (move) => {
      const steps = Math.trunc((move.clientX - start) / each);
      if (!within && Math.abs(move.clientX - start) < 6) return;
      if (!within) {
        within = gesture();
        button.setPointerCapture(move.pointerId);
        button.classList.add("scrubbed");
      }
      const value = nudged(one.field, steps, from);
      if (value !== null) put(one, composed(one.field, { number: value }), within);
    };
    const up = () => {
      button.removeEventListener("pointermove", moved);
      button.removeEventListener("pointerup", up);
      button.removeEventListener("pointercancel", up);
      button.classList.remove("scrubbed");
      if (!within) return;
      ended();
      button.addEventListener("click", (click) => click.stopImmediatePropagation(), { capture: true, once: true });
      setTimeout(() => button.dispatchEvent(new Event("scrubend")), 0);
    };
    button.addEventListener("pointermove", moved);
    button.addEventListener("pointerup", up);
    button.addEventListener("pointercancel", up);
  });
}
