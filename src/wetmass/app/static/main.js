// The page: every part listens to the one line, then the line is opened.

import "./story.js";
import "./strip.js";
import "./panels.js";
import "./tools.js";
import { told } from "./chip.js";
import { busy, connect, on } from "./wire.js";

on("value", (message) => {
  if (!busy(message.path)) told(message.path, message.value); // what is under way here is newer
});
connect();
