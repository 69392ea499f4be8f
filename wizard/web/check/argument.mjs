// What must be added: for certain, in one of several ways, or only if something turns out so.

import { fold, h, list } from "./dom.mjs";
import { inventedTag, offerText } from "./offers.mjs";
import { TYPE_WORDS, joined, plural } from "./words.mjs";

const LONG_TEXT = 180;
const FEW_CLAUSES = 2;

/** What must be added for certain, which ways there are, and what only if something turns out so. */
export function additionsPart(book, answer) {
  const { certain, one_of: ways, only_if: only, more } = answer.additions;
  if (!certain.length && !ways.length && !only.length) return null;
  return h(
    "section",
    { class: "db-part" },
    h("h3", {}, "What else it needs"),
    certain.length ? h("ul", { class: "db-additions" }, certain.map((one) => addition(book, one))) : null,
    ways.map((each) => h("div", { class: "db-routes" }, h("p", {}, "One of these ways, the preferred first:"), h("ol", {}, each.map((way) => h("li", {}, h("ul", { class: "db-additions" }, way.map((one) => addition(book, one)))))))),
    only.map((each, place) => h("div", { class: "db-if" }, h("ul", { class: "db-additions" }, each.then.map((one) => addition(book, one))), conditions(`when ${place} ${each.then.map((one) => one.addition).join(" ")}`, each))),
    more.length ? fold("more additions", `And perhaps ${plural(more.length, "more thing", "more things")}, as the open questions turn out`, list(more.map((one) => [h("span", { class: "db-doing" }, TYPE_WORDS[one.type] ?? one.type), " ", one.title]))) : null,
  );
}

/** When an addition is needed: the clauses of the first case at once when they are few, else folded. */
function conditions(key, { conditions: rows, more_conditions: more }) {
  const cases = rows.map((clauses, place) => [h("p", { class: "db-when" }, h("strong", {}, place ? "Or if" : "Only if")), h("ul", { class: "db-clauses" }, clauses.map((clause) => h("li", {}, clause)))]);
  const all = [...cases, more ? h("p", { class: "db-when" }, `Or in ${plural(more, "more case", "more cases")}.`) : null];
  if (rows.length === 1 && rows[0].length <= FEW_CLAUSES) return h("div", {}, all);
  return fold(key, "Only if certain things turn out so", all);
}

/** On what something depends; a long condition is folded behind its first words. */
export function condition(key, head, when) {
  const text = h("p", { class: "db-when" }, h("strong", {}, head), `${when}.`);
  return when.length < LONG_TEXT ? text : fold(key, `${head}certain things turn out so`, text);
}

function addition(book, one) {
  const record = book.data.offers[one.addition];
  const offer = offerText(book, one, record);
  return h(
    "li",
    {},
    fold(
      `addition ${one.addition} ${one.slot}`,
      [h("span", { class: "db-doing" }, TYPE_WORDS[one.type] ?? one.type), h("span", {}, one.title)],
      h("p", {}, one.do),
      one.cautions.map((text) => h("p", { class: "db-caution" }, text)),
      one.checks.length ? [h("p", {}, "Check:"), list(one.checks)] : null,
      one.for.length ? h("p", { class: "db-cited" }, `For: ${joined(one.for.map((id) => book.ruleTitle(id)))}`) : null,
    ),
    offer ? h("p", { class: "db-offer" }, offer, inventedTag(record)) : null,
  );
}
