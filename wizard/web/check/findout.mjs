// How to find something out, shown where the question stands.

import { h } from "./dom.mjs";
import { EASE_WORDS } from "./words.mjs";

/** The steps of a way to find out, what to expect of one attribute, tools, time and hazard; null when there is none. */
export function wayToFindOut(book, id, attribute) {
  const way = id ? book.findOut(id) : null;
  if (!way) return null;
  const hazard = way.hazard && way.hazard !== "none" ? h("p", { class: "db-caution" }, way.hazard) : null;
  const facts = [
    ["Effort", EASE_WORDS[way.ease] ?? way.ease],
    ["Time", way.time],
    ["Tools", way.tools.join(", ")],
  ].filter(([, text]) => text);
  return h(
    "div",
    { class: "db-way" },
    h("p", { class: "db-way__title" }, way.title),
    hazard,
    h("ol", {}, way.steps.map((step) => h("li", {}, step))),
    attribute && way.expect[attribute] ? h("p", {}, h("strong", {}, "What you see means: "), way.expect[attribute]) : null,
    facts.length ? h("p", { class: "db-way__facts" }, facts.map(([name, text], place) => [place ? " · " : "", `${name}: ${text}`])) : null,
  );
}
