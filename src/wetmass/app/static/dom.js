// Elements made one by one: text stays text, and no markup is ever read from what a user typed.

/**
 * An element with attributes, listeners (`onclick`) and children.
 * @param {string} tag
 * @param {Record<string, any>} [about]
 * @param {...(Node | string | null | undefined | false)} inside
 * @returns {HTMLElement}
 */
export function el(tag, about = {}, ...inside) {
  const made = document.createElement(tag);
  for (const [name, value] of Object.entries(about)) {
    if (value === undefined || value === null || value === false) continue;
    if (name.startsWith("on") && typeof value === "function") made.addEventListener(name.slice(2), value);
    else if (name === "value" || name === "checked" || name === "selected" || name === "disabled")
      /** @type {any} */ (made)[name] = value;
    else made.setAttribute(name, value === true ? "" : String(value));
  }
  made.append(.../** @type {(Node | string)[]} */ (inside.filter((one) => one || one === "")));
  return made;
}

/**
 * The element of an id; it is in the page.
 * @param {string} id
 * @returns {HTMLElement}
 */
export function at(id) {
  const found = document.getElementById(id);
  if (!found) throw new Error(`no #${id} in the page`);
  return found;
}

/**
 * Markup that the server made (pictures, working), put into `target`; scripts in it would not run.
 * Styles come as `data-style`, since the page's policy refuses them in markup.
 * @param {Element} target
 * @param {string} markup
 */
export function drawn(target, markup) {
  const parsed = new DOMParser().parseFromString(markup, "text/html");
  for (const one of parsed.querySelectorAll("script, iframe, object, embed, link")) one.remove();
  const nodes = [...parsed.body.childNodes].map((node) => document.adoptNode(node));
  target.replaceChildren(...nodes);
  for (const one of target.querySelectorAll("[data-style]")) {
    /** @type {HTMLElement} */ (one).style.cssText = one.getAttribute("data-style") ?? "";
    one.removeAttribute("data-style");
  }
}

/**
 * A path as one word.
 * @param {(string | number)[]} path
 */
export const key = (path) => JSON.stringify(path);
