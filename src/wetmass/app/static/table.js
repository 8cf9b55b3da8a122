// A table that scrolls by itself where it is too wide.

import { el } from "./dom.js";

/** @param {string} caption @param {string[]} heads @param {string[][]} rows @param {number} [texts]  columns of words */
export function table(caption, heads, rows, texts = 1) {
  return el("div", { class: "wide", role: "region", "aria-label": caption, tabindex: "0" },
    el("table", {}, el("caption", {}, caption),
      el("thead", {}, el("tr", {}, ...heads.map((head, i) => el("th", { scope: "col", class: i < texts ? "" : "n" }, head)))),
      el("tbody", {}, ...rows.map((row) => el("tr", {}, ...row.map((cell, i) => el(i === 0 ? "th" : "td", { class: i < texts ? "" : "n", scope: i === 0 ? "row" : undefined }, cell)))))));
}
