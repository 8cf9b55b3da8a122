// The lesson's charts, drawn here from their own specifications; expressions are interpreted, never compiled.

import { el } from "./dom.js";

/** @type {Promise<any> | null} */
let loaded = null;
/** @type {{name: string, words: string, spec: any}[]} */
let last = [];
/** @type {HTMLElement | null} */
let place = null;
/** @type {Map<string, {figure: HTMLElement, view: any}>} */
const drawn = new Map();

function vega() {
  loaded ??= new Promise((resolve, reject) => {
    const script = el("script", { src: "/vega.js" });
    script.addEventListener("load", () => resolve(/** @type {any} */ (window).vegaEmbed));
    script.addEventListener("error", () => reject(new Error("the drawing code could not be had")));
    document.head.append(script);
  });
  return loaded;
}

/** Colours as the page has them now. @param {any} spec */
function coloured(spec) {
  const style = getComputedStyle(document.documentElement);
  let text = JSON.stringify(spec);
  for (const [name, light] of Object.entries(light_())) text = text.replaceAll(`"${light}"`, `"${style.getPropertyValue(`--${name}`).trim()}"`);
  return JSON.parse(text.replaceAll('"Source Sans 3"', `"'Source Sans 3'"`)); // a name with a digit is quoted on a canvas
}

/** @type {Record<string, string> | null} */
let lightColours = null;
function light_() {
  if (lightColours) return lightColours;
  lightColours = {};
  for (const sheet of document.styleSheets)
    for (const rule of sheet.cssRules)
      if (rule instanceof CSSStyleRule && rule.selectorText === ":root")
        for (const name of rule.style) if (name.startsWith("--")) lightColours[name.slice(2)] ??= rule.style.getPropertyValue(name).trim();
  return lightColours;
}

/**
 * @param {HTMLElement} target
 * @param {{name: string, words: string, spec: any}[]} made
 */
export async function charts(target, made) {
  last = made;
  place = target;
  const embed = await vega();
  if (made !== last) return;
  const names = new Set(made.map((one) => one.name));
  for (const [name, one] of drawn) if (!names.has(name)) { one.view?.finalize(); one.figure.remove(); drawn.delete(name); }
  for (const one of made) {
    let there = drawn.get(one.name);
    if (!there) {
      there = { figure: el("figure", { class: `chart ${one.name}` }), view: null };
      drawn.set(one.name, there);
      target.append(there.figure);
    }
    const room = el("div", { role: "img", "aria-label": one.words });
    const result = await embed(room, coloured(one.spec), { ast: true, actions: false, defaultStyle: false, tooltip: false, renderer: "canvas" });
    if (made !== last) return;
    there.view?.finalize();
    there.view = result.view;
    there.figure.replaceChildren(room);
  }
}

/** Another file: nothing of the last one is drawn. */
export function cleared() {
  last = [];
  for (const { figure, view } of drawn.values()) {
    view?.finalize();
    figure.remove();
  }
  drawn.clear();
}

/** Draw again, in the colours of now. */
export function redraw() {
  if (place && last.length) void charts(place, [...last]);
}
