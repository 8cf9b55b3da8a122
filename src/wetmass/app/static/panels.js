// The side of the page: vehicle, flight, working, findings, comparison, a working to check, things to hand out.

import { at, drawn, el } from "./dom.js";
import { charts, cleared } from "./charts.js";
import { checking } from "./checking.js";
import { handing } from "./handing.js";
import { homes } from "./homes.js";
import { table } from "./table.js";
import { on, send } from "./wire.js";

/** @typedef {import("./types.js").Message} Message */

const TABS = [
  ["concept", "Concept"], // only where there is no room for both
  ["vehicle", "Vehicle"], ["flight", "Flight"], ["home", "Way home"], ["working", "Working"], ["findings", "Findings"],
  ["compare", "Compare"], ["check", "Check"], ["hand", "Hand out"],
];
/** The tabs that keys choose, Alt+1 first. */
export const SIDE = TABS.slice(1);
/** @type {Record<string, HTMLElement>} */
const panels = {};
/** @type {Record<string, HTMLElement>} */
const tabs = {};
const narrow = matchMedia("(max-width: 56rem)");
let chosen = narrow.matches ? "concept" : "vehicle";
narrow.addEventListener("change", () => {
  if (!narrow.matches && chosen === "concept") choose("vehicle");
});

for (const [name, words] of TABS) {
  tabs[name] = el("button", { type: "button", role: "tab", id: `tab-${name}`, "aria-controls": name === "concept" ? "story" : `panel-${name}`, onclick: () => choose(name) }, words);
  at("tabs").append(tabs[name]);
  if (name === "concept") continue;
  panels[name] = el("div", { role: "tabpanel", id: `panel-${name}`, "aria-labelledby": `tab-${name}`, tabindex: "0", class: `panel is-${name}` });
  at("panels").append(panels[name]);
}
at("tabs").addEventListener("keydown", (event) => {
  const names = TABS.map(([name]) => name).filter((name) => narrow.matches || name !== "concept");
  const step = { ArrowRight: 1, ArrowLeft: -1 }[event.key];
  if (!step) return;
  event.preventDefault();
  choose(names[(names.indexOf(chosen) + step + names.length) % names.length]);
  tabs[chosen].focus();
});

/** @param {string} name */
export function choose(name) {
  chosen = name;
  document.documentElement.dataset.view = name;
  for (const [each] of TABS) {
    tabs[each].setAttribute("aria-selected", String(each === name));
    tabs[each].tabIndex = each === name ? 0 : -1;
    if (panels[each]) panels[each].hidden = each !== name;
  }
  const view = { flight: "charts", working: "working" }[name] ?? "";
  send({ type: "view", view });
}

// ── vehicle ──

const picture = el("div", { class: "picture" });
const masses = el("div", { class: "masses" });
panels.vehicle.append(picture, masses);

/** Before anything of a file was computed. */
function empty() {
  markup = "";
  picture.replaceChildren(el("p", { class: "quiet" }, "The vehicle appears here, to scale, once it has been computed."));
  for (const one of [masses, pictures, events, law]) one.replaceChildren();
  panels.working.replaceChildren(el("p", { class: "quiet" }, "Every step appears here once it has been flown."));
  panels.findings.replaceChildren(el("p", { class: "quiet" }, "What does not hold appears here once it has been flown."));
  tabs.findings.textContent = "Findings";
  panels.compare.replaceChildren(...nothing());
  tabs.compare.textContent = "Compare";
  cleared();
}
on("fresh", empty);

let markup = "";
on("drawn", (message) => {
  markup = message.drawing;
  for (const one of document.querySelectorAll(".now-drawn")) drawn(one, renamed(markup, "now"));
  if (message.drawing) drawn(picture, message.drawing);
  else picture.replaceChildren(el("p", { class: "quiet" }, "Nothing can be drawn of masses that nothing can hold."));
});

// ── flight, working, findings ──

const pictures = el("div", { class: "charts" });
const events = el("div", {});
const law = el("p", { class: "quiet" });
panels.flight.append(pictures, law, events);

on("flown", (message) => {
  masses.replaceChildren(table("Masses on the pad", ["part", "what", "mass", "share"], message.masses, 2));
  events.replaceChildren(message.events.length ? table("The flight, event by event", ["", "event", "time", "height", "speed", "pressure", "felt"], message.events, 2) : el("p", {}, "It was not flown, since it does not close."));
  law.textContent = message.steering ? `Steered by ${message.steering}.` : "";
  if (!message.events.length) pictures.replaceChildren();
  panels.findings.replaceChildren(...found(message));
  const doubts = message.findings.filter((/** @type {any} */ one) => one.weight !== "note").length;
  tabs.findings.textContent = doubts ? `Findings (${doubts})` : "Findings";
});

const WEIGHTS = /** @type {Record<string, string>} */ ({ fails: "fails", doubt: "in doubt", note: "worth knowing" });

/** @param {Message} message */
function found(message) {
  const listed = message.findings.map((/** @type {any} */ one) =>
    el("article", { class: `finding is-${one.weight}` },
      el("h3", {}, el("span", { class: "badge" }, WEIGHTS[one.weight] ?? one.weight), ` ${one.part ? `${one.part}: ` : ""}${one.rule}`),
      el("p", {}, `${sentence(one.got)}${one.accepted ? ` Accepted: ${sentence(one.accepted)}` : ""} ${sentence(one.remedy)}`),
      el("p", { class: "source" }, `Source: ${one.source}`)));
  return [el("h2", {}, "What does not hold, and what is worth knowing"), ...listed,
    el("h2", {}, "Caution"), ...message.cautions.map((/** @type {string} */ one) => el("p", { class: "caution" }, one))];
}

/** @param {string} words */
const sentence = (words) => (words ? `${words.slice(0, 1).toUpperCase()}${words.slice(1)}${/[.!?]$/.test(words) ? "" : "."}` : "");

on("view", (message) => {
  if (message.view === "charts") charts(pictures, message.made);
  else {
    drawn(panels.working, `<h2>The working, step by step</h2>${message.made.markup}`);
    anchors = message.made.anchors;
    if (wanted) lead(wanted);
  }
});

// ── from a number to where it was made ──

/** @type {Record<string, string>} */
let anchors = {};
let wanted = "";

/** Show where a number in sight comes from: the step that made it, the flight, or the vehicle. @param {string} number */
export function lead(number) {
  wanted = "";
  const step = anchors[number] && document.getElementById(anchors[number]);
  if (step && chosen === "working") {
    step.scrollIntoView({ block: "start" });
    step.classList.add("led");
    setTimeout(() => step.classList.remove("led"), 2500);
    return;
  }
  if (["ideal", "lost", "burnout"].includes(number)) choose("flight");
  else {
    wanted = number;
    choose("working");
  }
}

// ── comparison ──

const nothing = () => [el("h2", {}, "Compare"), el("p", {}, "Pin the concept as it is now; go on changing it, and see here what became different."),
  el("button", { type: "button", class: "main", onclick: () => send({ type: "pin" }) }, "Pin this version")];

on("pinned", (message) => {
  const pinned = message.pinned;
  tabs.compare.textContent = pinned ? "Compare •" : "Compare";
  if (!pinned) {
    panels.compare.replaceChildren(...nothing());
    return;
  }
  const before = el("div", { class: "picture" }), after = el("div", { class: "picture now-drawn" });
  drawn(before, renamed(pinned.drawing, "pinned"));
  drawn(after, renamed(markup, "now"));
  panels.compare.replaceChildren(
    el("h2", {}, "This version beside the pinned one"),
    table("Numbers", ["", "pinned", "now", "change"], pinned.numbers.map((/** @type {any} */ one) => [one.label, one.was ?? "", one.text, one.change ? `${one.change} (${one.share})` : "same"])),
    pinned.differences.length ? table("What the file says differently", ["where", "pinned", "now"], pinned.differences.map((/** @type {any} */ one) => [one.where, one.then || "not said", one.now || "not said"]), 3)
      : el("p", {}, "The file says the same as when it was pinned."),
    el("div", { class: "side-by-side" }, el("figure", {}, el("figcaption", {}, "pinned"), before), el("figure", {}, el("figcaption", {}, "now"), after)),
    el("div", { class: "row" },
      el("button", { type: "button", class: "main", onclick: () => send({ type: "pin" }) }, "Pin this version instead"),
      el("button", { type: "button", class: "plain", onclick: () => send({ type: "unpin" }) }, "Unpin")));
});

/** A picture with ids of its own. @param {string} markup @param {string} name */
const renamed = (markup, name) => markup.replace(/\b(id="|aria-labelledby="|url\(#| )whole/g, `$1${name}`);

empty();
homes(panels.home);
checking(panels.check);
handing(panels.hand);
choose(chosen);
on("connected", () => choose(chosen));
