// Lists of what more can be said, asked or claimed here.

import { el, key } from "./dom.js";
import { on, send } from "./wire.js";

/** @type {Map<string, HTMLElement>} */
const waiting = new Map();

/**
 * A button that opens a list of what can be added at a path.
 * @param {string} words
 * @param {(string | number)[]} path
 * @param {"key" | "require" | "claim"} what
 */
export function offered(words, path, what) {
  const list = el("div", { class: "offers", hidden: true });
  const button = el("button", { type: "button", class: "add", "aria-expanded": "false" }, words);
  button.addEventListener("click", () => {
    const opening = list.hidden;
    for (const one of document.querySelectorAll(".offers")) /** @type {HTMLElement} */ (one).hidden = true;
    for (const one of document.querySelectorAll('.add[aria-expanded="true"]')) one.setAttribute("aria-expanded", "false");
    if (!opening) return;
    button.setAttribute("aria-expanded", "true");
    list.hidden = false;
    list.dataset.what = what;
    list.replaceChildren(el("p", { class: "quiet" }, "One moment …"));
    waiting.set(key(path), list);
    send({ type: "more", path });
  });
  list.addEventListener("keydown", (event) => {
    if (event.key !== "Escape") return;
    list.hidden = true;
    button.setAttribute("aria-expanded", "false");
    button.focus();
  });
  return el("span", { class: "offering" }, button, list);
}

on("more", (message) => {
  const list = waiting.get(key(message.path));
  if (!list) return;
  const search = /** @type {HTMLInputElement} */ (el("input", { type: "search", placeholder: "Look for a word", "aria-label": "look for a word in the list" }));
  const rows = message.offers.map((/** @type {any} */ one) =>
    el("button", { type: "button", class: "offer", onclick: () => chosen(list, message.path, one) },
      el("b", {}, one.key), el("span", { class: "quiet" }, ` ${one.words}`), el("code", {}, one.example)));
  search.addEventListener("input", () => {
    for (const row of rows) row.hidden = !row.textContent.toLowerCase().includes(search.value.toLowerCase());
  });
  list.replaceChildren(...(rows.length ? [search, el("div", { class: "rows" }, ...rows)] : [el("p", { class: "quiet" }, "Everything is said.")]));
  search.focus();
});

/** @param {HTMLElement} list @param {(string | number)[]} path @param {any} one */
function chosen(list, path, one) {
  list.hidden = true;
  const what = list.dataset.what;
  send(what === "key" ? { type: "add", what, path: one.path } : { type: "add", what: what ?? "", path, name: one.key });
}
