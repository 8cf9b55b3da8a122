// Numbers as typed: nudged, turned into another unit, put together again.

/** @typedef {import("./types.js").Field} Field */

/**
 * The number of a field, NaN where it has none.
 * @param {Field} field
 */
export const number = (field) =>
  field.number ? Number(field.number.replace(/[\s,]/g, "").replace("−", "-")) : NaN;

/**
 * A round step near one percent.
 * @param {number} value
 */
export function step(value) {
  const small = Math.abs(value || 1) / 100;
  const power = 10 ** Math.floor(Math.log10(small));
  const first = small / power;
  return power * (first < 1.4 ? 1 : first < 3.2 ? 2 : first < 7 ? 5 : 10);
}

/**
 * Digits enough for the step, none that say nothing.
 * @param {number} value
 * @param {number} [by]
 */
export function digits(value, by = step(value)) {
  const decimals = Math.max(0, Math.min(9, -Math.floor(Math.log10(by) + 1e-9)));
  const text = value.toFixed(decimals);
  return text.includes(".") ? text.replace(/\.?0+$/, "") : text;
}

/**
 * A field put together again with some of it changed.
 * @param {Field} field
 * @param {{number?: string, unit?: string, tail?: string, bound?: string}} change
 */
export function composed(field, change) {
  const { number: digitsTyped, unit, tail, bound } = { ...field, ...change };
  return `${bound ? `${bound} ` : ""}${digitsTyped ?? ""}${unit ? ` ${unit}` : ""}${tail ?? ""}`.trim();
}

/**
 * The field's value moved by some steps; null where it has no number.
 * @param {Field} field
 * @param {number} steps
 * @param {string} [from]  the number to count from, as typed
 */
export function nudged(field, steps, from) {
  const start = from === undefined ? number(field) : Number(from);
  if (!Number.isFinite(start)) return null;
  if (field.kind === "whole") {
    const low = field.low ?? 1, high = field.high ?? 1e6;
    return String(Math.min(high, Math.max(low, Math.round(start + steps))));
  }
  const by = step(start);
  const typed = (String(from ?? field.number).split(".")[1] ?? "").length;
  const inside = clipped(field, start + steps * by);
  return digits(inside, Math.min(by, 10 ** -Math.min(typed, 6)));
}

/**
 * @param {Field} field
 * @param {number} value  in the field's unit
 */
function clipped(field, value) {
  const factor = factorOf(field, field.unit ?? "");
  if (factor === null) return value;
  const low = field.low ?? -Infinity, high = field.high ?? Infinity;
  return Math.min(high / factor, Math.max(low / factor, value));
}

/**
 * @param {Field} field
 * @param {string} unit
 */
function factorOf(field, unit) {
  const found = (field.units ?? []).find(([name]) => name === unit);
  return found ? found[1] : null;
}

/**
 * The number in another unit of the field, as typed.
 * @param {Field} field
 * @param {string} unit
 */
export function inUnit(field, unit) {
  const from = factorOf(field, field.unit ?? ""), to = factorOf(field, unit);
  if (from === null || to === null) return field.number ?? "";
  return String(Number(((number(field) * from) / to).toPrecision(6)));
}

/**
 * What the field says once its text is `value`; the server says it properly later.
 * @param {Field} field
 * @param {string} value
 * @returns {Field}
 */
export function reread(field, value) {
  const made = { ...field, value };
  if (field.kind !== "quantity" && field.kind !== "whole") return made;
  delete made.number;
  made.found = false;
  const match = /^(at least|at most|exactly)?\s*([+\-−]?[\d][\d\s,.]*(?:[eE][+-]?\d+)?|[+\-−]?\.\d+)\s*([^\s±(+\d]*)(.*)$/.exec(value.trim());
  if (/^find/.test(value.trim())) made.found = true;
  else if (match && !/\sto\s/.test(value.split("(")[0])) {
    made.bound = match[1] ?? "";
    made.number = match[2].trim();
    made.unit = match[3];
    made.tail = match[4].trimEnd();
  }
  return made;
}
