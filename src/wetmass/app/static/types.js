// What goes over the wire, for the type checker.

/**
 * @typedef {(string | number)[]} Path
 *
 * @typedef {object} Field  a value of the file, as the server describes it
 * @property {Path} path
 * @property {string} value  as typed
 * @property {string} label
 * @property {"quantity" | "whole" | "choice" | "text"} kind
 * @property {string} accepted
 * @property {string} words
 * @property {string} [example]
 * @property {boolean} [needed]
 * @property {boolean} [open]  may be left to be found
 * @property {boolean} [spread]  may carry a spread
 * @property {boolean} [found]  is left to be found
 * @property {[string, number][]} [units]
 * @property {number | null} [low]
 * @property {number | null} [high]
 * @property {string[]} [choices]
 * @property {string[]} [also]
 * @property {string[]} [bounds]
 * @property {string} [bound]
 * @property {string} [number]
 * @property {string} [unit]
 * @property {string} [tail]
 *
 * @typedef {(string | Field)[]} Sentence
 *
 * @typedef {object} Block
 * @property {string} id
 * @property {string} kind
 * @property {string} heading
 * @property {Path} path
 * @property {Sentence[]} sentences
 * @property {string} [stage]
 * @property {Field} [title]
 * @property {Block[]} [parts]
 * @property {boolean} [first]
 * @property {boolean} [last]
 * @property {boolean} [only]
 * @property {{path: Path, name: string, pieces: Sentence}[]} [items]
 *
 * @typedef {object} Numbered
 * @property {string} key
 * @property {string} label
 * @property {string} text
 * @property {number} value
 * @property {number} more
 * @property {string} [was]
 * @property {string} [change]
 * @property {string} [share]
 *
 * @typedef {object} Complaint
 * @property {Path} path
 * @property {string} field
 * @property {string} got
 * @property {string} accepted
 * @property {string} remedy
 *
 * @typedef {Record<string, any> & {type: string}} Message
 */

export {};
