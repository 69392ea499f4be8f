// When the answer is no: what stands in the way, and the smallest changes that would help, each taken by one press.

import { button, h, mark } from "./dom.mjs";
import { inARow, ruleLink } from "./links.mjs";
import { inventedTag, partsPrice, priceText } from "./offers.mjs";
import { BACK_UNDOES, joined } from "./words.mjs";
import { verdictWord } from "./verdicts.mjs";

/** The clash as one sentence, with the rules that make it. */
export function clashPart(answer) {
  if (!answer.clash_text) return null;
  const rules = answer.clash_rules.map((one) => ruleLink(one.rule, one.title));
  return h(
    "section",
    { class: "db-part" },
    h("h3", {}, "What stands in the way"),
    h("p", { class: "db-clash" }, answer.clash_text),
    rules.length ? h("p", { class: "db-cited" }, rules.length === 1 ? "The rule: " : "The rules: ", inARow(rules)) : null,
  );
}

/** The alternatives that would help, as the engine ranks them. `take(build)` goes on with the build of one. */
export function changesPart(book, answer, take) {
  if (!answer.changes.length) return null;
  return h(
    "section",
    { class: "db-part" },
    h("h3", {}, answer.changes_text),
    h("ul", { class: "db-changes" }, answer.changes.map((one, place) => alternative(book, one, place, take))),
    h("p", { class: "db-hint" }, BACK_UNDOES),
  );
}

function alternative(book, one, place, take) {
  const families = one.parts.map((part) => book.data.families[part.family]);
  const price = partsPrice(book, one);
  const label = `change-${place}`;
  return h(
    "li",
    { class: "db-change" },
    h("p", { class: "db-change__text", id: `db-${label}` }, one.text, inventedTag(families.find((family) => family?.invented))),
    h("p", { class: "db-change__verdict", "data-verdict": one.verdict }, mark(one.verdict), h("span", {}, verdictWord(one.verdict)), price ? h("span", { class: "db-offer" }, price) : null),
    one.additions.length ? h("p", { class: "db-change__needs" }, "With: ", joined(one.additions.map((each) => named(book, each)))) : null,
    button("Make this change", () => take(one.build), { "data-key": label, "aria-describedby": `db-${label}` }),
  );
}

/** An addition by its title, with its price where the shop gives one. */
function named(book, one) {
  const offer = book.data.offers[one.addition];
  const price = offer?.price;
  return price === null || price === undefined ? one.title : `${one.title} (${priceText(book, price, offer)})`;
}
