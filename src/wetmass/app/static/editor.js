// The little sheet in which one value is changed: number, unit, slider, spread, open or fixed, or as typed.

import { at, el, key } from "./dom.js";
import { chips, gesture, put } from "./chip.js";
import { composed, digits, inUnit, number, reread, step } from "./value.js";
import { ended, on, send } from "./wire.js";

/** @typedef {import("./types.js").Field} Field */
/** @typedef {import("./types.js").Complaint} Complaint */

/** @type {{sheet: HTMLElement, from: HTMLElement, path: string, gesture: string, wrong: HTMLElement} | null} */
let shown = null;
const PAUSE = 250; // ms without a key, after which a number that is being typed counts
/** @type {(() => void) | null} */
let typing = null;
let pause = 0;

/** What was typed is taken once the typing rests, or the sheet is closed. @param {() => void} act */
function soon(act) {
  typing = act;
  clearTimeout(pause);
  pause = window.setTimeout(rested, PAUSE);
}

function rested() {
  const act = typing;
  clearTimeout(pause);
  typing = null;
  act?.();
}

/** @param {Complaint} one */
export const saidWrong = (one) => `Got ${one.got}. Accepted: ${one.accepted}. To do: ${one.remedy}${/[.?!]$/.test(one.remedy) ? "" : "."}`;

/** The sentences were told anew: the open sheet goes back to its value, with the focus it had. @param {Element | null} focus */
export function keepEditor(focus) {
  const button = shown && chips.get(shown.path)?.button;
  if (!shown) return;
  if (!button) {
    shown = null; // its value is gone
    return;
  }
  button.setAttribute("aria-expanded", "true");
  placed(shown.sheet, button);
  if (focus instanceof HTMLElement && shown.sheet.contains(focus)) focus.focus({ preventScroll: true });
}

/** @param {HTMLElement} sheet @param {HTMLElement} button */
function placed(sheet, button) {
  (button.closest("p, h2, .title-line") ?? button).after(sheet);
}

/** @param {boolean} [back]  whether the focus goes back to where it came from */
export function closeEditor(back = true) {
  if (!shown) return;
  rested();
  const { sheet, path } = shown;
  shown = null;
  sheet.remove();
  for (const one of document.querySelectorAll('[aria-expanded="true"].chip')) one.removeAttribute("aria-expanded");
  ended();
  if (back) chips.get(path)?.button.focus();
}

/**
 * @param {Field} field
 * @param {HTMLElement} from
 */
export function openEditor(field, from) {
  const same = shown?.path === key(field.path);
  closeEditor(false);
  if (same) return;
  const within = gesture();
  const path = key(field.path);
  const wrong = el("div", { class: "wrong", role: "alert" });
  const heading = `edit-${gesture()}`;
  const sheet = el("div", { class: "editor", role: "dialog", "aria-labelledby": heading });
  shown = { sheet, from, path, gesture: within, wrong };
  const change = (/** @type {string} */ value) => {
    const one = chips.get(path);
    if (one) put(one, value, within);
  };
  const current = () => chips.get(path)?.field ?? field;
  sheet.append(
    el("p", { class: "what", id: heading }, capital(field.words || field.label)),
    ...controls(field, current, change),
    wrong,
    el("div", { class: "row end" },
      !field.needed && el("button", { type: "button", class: "plain danger", onclick: () => { closeEditor(false); send({ type: "remove", path: field.path, label: field.label }); } }, "Take away"),
      el("button", { type: "button", class: "main", onclick: () => closeEditor() }, "Done")),
  );
  sheet.addEventListener("keydown", (event) => {
    if (event.key === "Escape" || (event.key === "Enter" && event.target instanceof HTMLInputElement)) {
      event.preventDefault();
      event.stopPropagation();
      closeEditor();
    }
  });
  from.setAttribute("aria-expanded", "true");
  placed(sheet, from);
  const first = /** @type {HTMLElement | null} */ (sheet.querySelector("input:not([type=checkbox]):not([type=range]), select"));
  first?.focus();
  if (first instanceof HTMLInputElement) first.select();
  sheet.scrollIntoView({ block: "nearest" });
}

document.addEventListener("pointerdown", (event) => {
  if (shown && event.target instanceof Element && !shown.sheet.contains(event.target) && !event.target.closest(".chip"))
    closeEditor(false);
});

on("refused", (message) => {
  if (shown && message.about && key(message.about) === shown.path)
    shown.wrong.replaceChildren(...message.complaints.map((/** @type {Complaint} */ one) => el("p", {}, saidWrong(one))));
});

/**
 * @param {Field} field
 * @param {() => Field} current
 * @param {(value: string) => void} change
 */
function controls(field, current, change) {
  if (field.kind === "choice") return [chosen(field, change)];
  if (field.kind === "quantity" || field.kind === "whole") return measured(field, current, change);
  return [typed(field, change, "Value")];
}

/** @param {Field} field @param {(value: string) => void} change */
function chosen(field, change) {
  const now = field.value === "true" ? "yes" : field.value === "false" ? "no" : field.value;
  const options = (field.choices ?? []).includes(now) ? field.choices ?? [] : [now, ...(field.choices ?? [])];
  const list = /** @type {HTMLSelectElement} */ (el("select", { "aria-label": field.label }, ...options.map((one) => el("option", { value: one, selected: one === now }, one))));
  list.addEventListener("change", () => change(list.value));
  return el("div", { class: "row" }, list);
}

/** @param {Field} field @param {(value: string) => void} change @param {string} words */
function typed(field, change, words) {
  const box = /** @type {HTMLInputElement} */ (el("input", { type: "text", value: field.value, maxlength: "2000", spellcheck: "false", autocomplete: "off", class: "typed" }));
  box.addEventListener("input", () => soon(() => change(box.value)));
  return el("label", { class: "row" }, el("span", {}, words), box);
}

/**
 * @param {Field} field
 * @param {() => Field} current
 * @param {(value: string) => void} change
 */
function measured(field, current, change) {
  const box = /** @type {HTMLInputElement} */ (el("input", { type: "text", inputmode: "decimal", class: "number", autocomplete: "off", spellcheck: "false", value: field.number ?? "", "aria-label": "number" }));
  const units = /** @type {HTMLSelectElement} */ (el("select", { "aria-label": "unit", class: "unit" }));
  const slider = /** @type {HTMLInputElement} */ (el("input", { type: "range", "aria-label": "slide to change", step: "any" }));
  const spread = /** @type {HTMLInputElement} */ (el("input", { type: "text", inputmode: "decimal", class: "short", autocomplete: "off", "aria-label": "spread, percent either way" }));
  const open = /** @type {HTMLInputElement} */ (el("input", { type: "checkbox" }));
  const whole = /** @type {HTMLInputElement} */ (el("input", { type: "text", class: "typed", autocomplete: "off", spellcheck: "false", maxlength: "200" }));
  const bound = /** @type {HTMLSelectElement} */ (el("select", { "aria-label": "how it binds" }, ...(field.bounds ?? []).map((one) => el("option", { value: one }, one))));

  const unitNames = (field.units ?? []).map(([name]) => name);
  if (field.unit !== undefined && !unitNames.includes(field.unit)) unitNames.unshift(field.unit);
  units.append(...unitNames.map((name) => el("option", { value: name }, name || "—")));

  const fill = (/** @type {Element | null} */ except = null) => {
    const one = current();
    const fixed = one.number !== undefined;
    if (except !== box) box.value = one.number ?? "";
    if (except !== units) units.value = one.unit ?? "";
    if (except !== bound) bound.value = one.bound ?? "";
    if (except !== spread) spread.value = (/^\s*(?:±|\+\/-)\s*([\d.]+)\s*%$/.exec(one.tail ?? "") ?? [])[1] ?? "";
    if (except !== whole) whole.value = one.value;
    open.checked = Boolean(one.found);
    for (const each of [box, units, slider, spread]) each.disabled = !fixed && Boolean(one.found);
    if (except !== slider && fixed) range(one, slider);
  };
  box.addEventListener("input", () => soon(() => { change(composed(current(), { number: box.value.trim() })); fill(box); }));
  units.addEventListener("change", () => { change(composed(current(), { number: inUnit(current(), units.value), unit: units.value })); fill(units); });
  bound.addEventListener("change", () => { change(composed(current(), { bound: bound.value })); fill(bound); });
  slider.addEventListener("input", () => {
    const one = current();
    const value = Number(slider.value);
    change(composed(one, { number: one.kind === "whole" ? String(Math.round(value)) : digits(value, step(value) / 2) }));
    fill(slider);
  });
  spread.addEventListener("input", () => soon(() => { change(composed(current(), { tail: spread.value.trim() ? ` ± ${spread.value.trim()} %` : "" })); fill(spread); }));
  open.addEventListener("change", () => { change(open.checked ? "find" : remembered(field, open)); fill(); });
  whole.addEventListener("input", () => soon(() => { change(whole.value); fill(whole); }));
  fill();

  const rows = [
    el("div", { class: "row" }, (field.bounds ?? []).length ? bound : null, box, unitNames.length > 1 || unitNames[0] ? units : null,
      field.spread && field.kind === "quantity" ? el("span", { class: "spread" }, "± ", spread, " %") : null),
    slider,
  ];
  if (field.open) rows.push(el("label", { class: "row check" }, open, el("span", {}, "Leave it open: the flight finds it")));
  rows.push(el("details", {}, el("summary", {}, "As typed"), el("label", { class: "row" }, el("span", { class: "sr" }, "as typed"), whole),
    el("p", { class: "quiet small" }, `Accepted: ${field.accepted || field.example || "a value"}.${field.also?.length ? ` Or “${field.also[0]}”.` : ""}`)));
  return rows;
}

/**
 * What an open value is fixed at: what was found, else the field's own number or example.
 * @param {Field} field
 * @param {HTMLElement} open
 */
function remembered(field, open) {
  const found = open.closest("#story") ? chips.get(key(field.path))?.note.dataset.fix : "";
  return found || (field.number ? field.value : field.example) || "1";
}

/** @param {Field} field @param {HTMLInputElement} slider */
function range(field, slider) {
  const value = number(field);
  if (!Number.isFinite(value)) return;
  const low = Number(slider.min), high = Number(slider.max);
  if (slider.dataset.unit !== field.unit || !(value >= low && value <= high)) {
    slider.dataset.unit = field.unit ?? "";
    const wholes = field.kind === "whole";
    slider.min = String(wholes ? Math.max(field.low ?? 1, Math.floor(value / 2)) : Math.min(value * 0.6, value * 1.4));
    slider.max = String(wholes ? Math.min(field.high ?? 200, Math.max(4, Math.ceil(value * 2))) : Math.max(value * 0.6, value * 1.4, 1e-9));
    if (wholes) slider.step = "1";
  }
  slider.value = String(value);
}

/** @param {string} words */
const capital = (words) => words.slice(0, 1).toUpperCase() + words.slice(1);
export { reread };
