// Links from the check to the reference: rules and their cases, sources, worked answers.

import { h } from "./dom.mjs";

/** The address of a page of the reference, from the page of the check; `anchor` is a place on it. */
export function link(section, id, anchor = "") {
  return new URL(`../${section}/${id ? `${id}/` : ""}${anchor ? `#${anchor}` : ""}`, document.baseURI).href;
}

/** A link to a rule, or to one of its cases. */
export function ruleLink(rule, text, anchor = "") {
  return h("a", { href: link("rules", rule, anchor) }, text);
}

/** A source by its title, linked to its place in the list of sources, with the place cited in it. */
export function sourceLink(book, cited) {
  const [id, where] = cited.split("#");
  const source = book.sourceOf(id);
  return [source ? h("a", { href: link("sources", "", id) }, source.title) : id, where ? `, ${where}` : ""];
}

/** Several things in a row, with commas and a last word between them. */
export function inARow(parts, word = "and") {
  return parts.flatMap((part, place) => (place === 0 ? [part] : [place === parts.length - 1 ? ` ${word} ` : ", ", part]));
}
