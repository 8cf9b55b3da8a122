// A working pasted or typed, each line marked while it is written.

import { el } from "./dom.js";
import { on, send } from "./wire.js";

const MARKS = /** @type {Record<string, [string, string]>} */ ({
  right: ["✓", "right"], approximation: ["≈", "an approximation"], off: ["✗", "asks for a second look"], unclear: ["?", "not clear"],
});
const FIRST = `lift-off mass = 88 t + 16 t + 3 t = 107 t
thrust = 7 · 210 kN = 1470 kN
thrust to weight = 1470 kN / 107 t = 13.7
Δv = 341 s · 9.81 m/s² · ln(107 t / 19 t) = 2.51 km/s`;

/** @param {HTMLElement} panel */
export function checking(panel) {
  const box = /** @type {HTMLTextAreaElement} */ (el("textarea", { id: "working-text", rows: "12", spellcheck: "false", maxlength: "65536", "aria-describedby": "working-help" }));
  const marks = el("ol", { class: "marks", "aria-label": "Each line with its mark" });
  const sum = el("p", { class: "sum", role: "status" });
  const beside = /** @type {HTMLInputElement} */ (el("input", { type: "checkbox" }));
  let timer = 0;
  const ask = () => send({ type: "check", text: box.value, concept: beside.checked });
  const soon = () => {
    clearTimeout(timer);
    timer = window.setTimeout(ask, 150);
  };
  box.addEventListener("input", soon);
  beside.addEventListener("change", ask);
  panel.append(
    el("h2", {}, "Check a working"),
    el("p", { id: "working-help", class: "quiet" }, "Paste or type a hand calculation, one statement a line. Every line is marked as you write."),
    el("label", { class: "sr", for: "working-text" }, "The working"), box,
    el("div", { class: "row" },
      el("label", { class: "row check" }, beside, el("span", {}, "Hold it against this concept, too")),
      el("button", { type: "button", class: "plain", onclick: () => { box.value = FIRST; ask(); box.focus(); } }, "Try an example with slips")),
    sum, marks);
  on("check", (message) => {
    if (message.stage === "refused") sum.textContent = message.complaints.map((/** @type {any} */ one) => `Got ${one.got}. Accepted: ${one.accepted}.`).join(" ");
    if (message.stage !== "checked") return;
    sum.textContent = [message.summary, message.outcome].filter(Boolean).join(" ");
    const typed = box.value.split("\n");
    const told = new Map(message.lines.map((/** @type {any} */ one) => [one.line, one]));
    marks.replaceChildren(...typed.flatMap((line, i) => {
      const one = /** @type {any} */ (told.get(i + 1));
      if (!one) return [];
      const [sign, words] = MARKS[one.verdict] ?? ["·", one.verdict];
      return [el("li", { class: one.verdict, value: String(i + 1) },
        el("span", { class: "sign", title: words, "aria-label": words, role: "img" }, sign), el("code", {}, line.trim()),
        ...one.remarks.map((/** @type {string} */ remark) => el("p", {}, remark)))];
    }));
  });
}
