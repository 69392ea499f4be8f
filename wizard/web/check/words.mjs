// The words of the page itself. What is said of parts, and every verdict, comes from the facts and from the engine.

/** The ways to say of a whole part how things stand, in the order they are offered. */
export const STATES = [
  ["not_sure", "I have one, but do not know which", "there is one; which one is not known yet"],
  ["maybe", "Not sure whether there is one", "not known whether there is one"],
  ["open", "Not bought yet: recommend one", "not bought yet; one is to be recommended"],
  ["made_to_order", "To be made to order", "to be made to order"],
  ["none", "None fitted", "none fitted"],
];
export const HAVE = "I have it: a listed part, or one I can describe";
export const ONE_OF = "One of several listed parts, I do not know which";
export const IN_HAND = "Several in hand: choose among them";
export const EXISTS = "there is one";
export const OTHER = ["other", "another one, not listed here"];
export const NOT_SURE = "Not sure";
export const UNKNOWN = "not known";
export const NONE_OF_THESE = "None of these, or not sure";
export const MORE_TO_FIND_OUT = "more to find out";
export const BANDS = "What matters is where it lies:";
export const PAIR = "No single answer settles this. Ask with it:";

export const ANSWERS = [["yes", "Yes"], ["no", "No"], ["not_sure", NOT_SURE]];
export const RELATIONS = {
  came_together: { title: "came together from one donor, unaltered", no: "did not come together from one donor, unaltered", many: true },
  made_for: { title: "were made for each other", no: "were not made for each other", many: true },
  same: { title: "are the same", no: "are different", many: false },
};
export const TYPES = [["buy", "buying"], ["make", "making"], ["wire", "wiring"], ["program", "programming"], ["set", "setting"], ["move", "moving"]];
export const TYPE_WORDS = { buy: "Buy", make: "Make", wire: "Wire", program: "Program", set: "Set", move: "Move" };
export const SOURCE_WORDS = {
  published: "published",
  "common-practice": "common practice, no document",
  "from-memory": "from memory",
  measured: "measured by the shop",
  invented: "invented, for demonstration",
};
export const FROM_WORDS = {
  told: "told by you",
  assumed: "assumed, on your word",
  listed: "listed",
  chosen: "our choice",
  "worked-out": "worked out from the rest",
  unknown: "not known",
};
export const EASE_WORDS = {
  ask: "somebody can tell you",
  look: "by looking",
  count: "by counting",
  read: "by reading a label or document",
  measure: "by measuring",
  drive: "by driving",
  dismantle: "by taking something apart",
};

export const STANDING =
  "This is a compatibility opinion from the facts listed above. It is not a calibration, a road-worthiness approval or legal advice.";
export const START = "Say what you have, one part at a time, in any order. An answer appears as soon as two parts have something to do with each other.";
export const NO_ANSWER_YET = "Say what you have: the answer appears here.";
export const ONE_MORE = "Nothing can be asked of what you have said so far by itself. Say one more part.";
export const WORKING = "Working it out.";
export const LONG = "Still working. You can go on; what you say next is answered in its place.";
export const OPENING = "Opening what the link says.";
export const SETTLED = "There is nothing more to ask for this answer.";
export const STILL_OPEN = "Everything that could be asked has been said or is marked as not sure. Find out one of those, and the answer may change.";
export const FAILED_STILL = "You can still read the worked answers, the parts, the rules and how to find things out: they need no part that works out answers.";
export const FAILED_LINK = "What this link says cannot be read without it. The link itself is unharmed: open it again later or in another browser.";
export const NO_FACTS = "The facts could not be fetched, so parts cannot be looked up.";
export const FROM_FILE = "This page was opened from a file. The check needs a web server: open the site's address instead.";
export const INVENTED = "invented";
export const NO_RULE_SPEAKS = "Nothing you said lets any rule speak of these:";
export const NEVER = "No answer can be worked out on this page now.";
export const PREPARED = "This answer was worked out when the site was built. Your browser is working it out again.";
export const PREPARED_ONLY = "This answer was worked out when the site was built.";
export const NO_VERDICT = "no verdict";
export const NOT_ASKED = "not asked";
export const NOTHING_CHANGED = "nothing in verdict, stops, reasons, additions or sums.";
export const BACK_UNDOES = "One press makes a change; Back in your browser undoes it.";
export const NOT_FOR_SALE = "not for sale here";
export const NOT_SOLD = "No part that would do as well is for sale here; the one suggested has to be found elsewhere.";
export const TO_ORDER = "It is made to order, and nothing that is known so far says what it has to be.";
export const FIND_OUT_FIRST = "Find out the open questions before you buy: no single part suits every way they may turn out.";

export function plural(count, one, many) {
  return `${count} ${count === 1 ? one : many}`;
}

/** A date such as 2026-11-25 in words. */
export function day(date) {
  return new Date(`${date}T00:00:00Z`).toLocaleDateString("en-GB", { day: "numeric", month: "long", year: "numeric", timeZone: "UTC" });
}

export function joined(parts, word = "and") {
  return parts.length < 2 ? parts.join("") : `${parts.slice(0, -1).join(", ")} ${word} ${parts.at(-1)}`;
}

/** The text with a small first letter, unless its first word is an abbreviation. */
export function lower(text) {
  return /^.[A-Z]/.test(text) ? text : text.charAt(0).toLowerCase() + text.slice(1);
}
