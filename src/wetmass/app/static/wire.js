// The one line to the server: it comes back by itself, and the newest value wins.

/** @typedef {import("./types.js").Message} Message */

import { key } from "./dom.js";

/** @type {Map<string, ((message: Message) => void)[]>} */
const hearers = new Map();
/** @type {WebSocket | null} */
let socket = null;
let wait = 250;
/** @type {Map<string, string>} value of each field as the server has it */
const known = new Map();
/** @type {Map<string, {path: (string | number)[], value: string, label: string, gesture: string}>} */
const next = new Map();
/** @type {Set<string>} */
const under = new Set();
export const now = { revision: 0, file: new URLSearchParams(location.hash.slice(1)).get("file") ?? "" };

/**
 * @param {string} type
 * @param {(message: Message) => void} hears
 */
export function on(type, hears) {
  hearers.set(type, [...(hearers.get(type) ?? []), hears]);
}

/** Another file is opened: what was told of the last one is not this one's. @param {string} file */
export function open(file) {
  now.file = file;
  known.clear();
  next.clear();
  under.clear();
  later = [];
  hear({ type: "fresh", file });
  send({ type: "open", file });
}

/** @param {Message} message */
function hear(message) {
  if (typeof message.revision === "number" && ["concept", "value"].includes(message.type)) now.revision = message.revision;
  for (const hears of hearers.get(message.type) ?? []) hears(message);
}

/** Open the line; it is opened again when it breaks. */
export function connect() {
  socket = new WebSocket(`ws://${location.host}/talk`);
  socket.addEventListener("open", () => {
    wait = 250;
    under.clear();
    hear({ type: "connected" });
    send({ type: "open", file: now.file });
  });
  socket.addEventListener("message", (event) => hear(JSON.parse(event.data)));
  socket.addEventListener("close", (event) => {
    hear({ type: "broken", words: event.reason });
    setTimeout(connect, wait);
    wait = Math.min(4000, wait * 2);
  });
}

/**
 * @param {Message} message
 * @returns {boolean} whether it could be sent
 */
export function send(message) {
  if (socket?.readyState !== WebSocket.OPEN) return false;
  socket.send(JSON.stringify({ revision: now.revision, ...message }));
  return true;
}

/**
 * Set a value of the file.  While one is on its way, or not answered yet, only the newest waits behind it: a
 * drag asks as fast as answers come, and no faster.
 * @param {(string | number)[]} path
 * @param {string} value
 * @param {string} label
 * @param {string} [gesture]  changes of one gesture are one step to undo
 */
export function set(path, value, label, gesture = "") {
  next.set(key(path), { path, value, label, gesture });
  pass(key(path));
}

const PATIENCE = 120; // ms, after which the next is sent though nothing was answered
let asked = 0, timer = 0;

/** @param {string} which */
function pass(which) {
  const one = next.get(which);
  if (!one || under.has(which)) return;
  const left = asked + PATIENCE - performance.now();
  if (asked && left > 0) {
    timer ||= window.setTimeout(passAll, left);
    return;
  }
  next.delete(which);
  if (one.value === known.get(which)) return;
  if (send({ type: "set", ...one, was: known.get(which) ?? "" })) {
    under.add(which);
    asked = performance.now();
  } else next.set(which, one);
}

/** Something was answered, or took too long. */
function passAll() {
  clearTimeout(timer);
  asked = timer = 0;
  for (const which of [...next.keys()]) pass(which);
}
for (const type of ["quick", "flown", "wrong", "refused", "overtaken", "ended", "defect"]) on(type, passAll);

/**
 * Remember what the server has in a field.
 * @param {(string | number)[]} path
 * @param {string} value
 */
export function has(path, value) {
  known.set(key(path), value);
}

/** Whether a change of this field is under way. @param {(string | number)[]} path */
export const busy = (path) => under.has(key(path)) || next.has(key(path));

/** @param {(string | number)[]} path */
function arrived(path) {
  under.delete(key(path));
  pass(key(path));
  rest();
}

/** @type {Message[]} */
let later = [];
/** Send once every value that was changed here has arrived. @param {Message} message */
export function after(message) {
  later.push(message);
  rest();
}
/** A gesture is over. */
export const ended = () => after({ type: "told" });

function rest() {
  if (under.size || next.size) return;
  const waiting = later;
  later = [];
  for (const message of waiting) send(message);
}

on("value", (message) => {
  has(message.path, message.value);
  arrived(message.path);
});
on("refused", (message) => message.about && arrived(message.about));
on("overtaken", (message) => {
  has(message.path, message.now);
  next.delete(key(message.path));
  arrived(message.path);
});
on("concept", () => {
  const waiting = [...under];
  under.clear();
  for (const which of [...waiting, ...next.keys()]) pass(which);
  rest();
});
