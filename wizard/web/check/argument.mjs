// Why the verdict is what it is, what must be added, and which of several parts to take.

import { fold, h, list, mark } from "./dom.mjs";
import { tick } from "./attribute.mjs";
import { INVENTED, TYPE_WORDS, joined, plural } from "./words.mjs";
import { verdictPlace, verdictWord } from "./verdicts.mjs";

/** The reasons, what decides first and what holds folded away, each open to its cases, codes, cautions and sources. */
export function reasonsPart(book, build, answer, right) {
  if (!answer.reasons.length) return null;
  const decides = (one) => answer.decided_by?.rule === one.rule && answer.decided_by.slot === one.slot;
  const order = (one) => verdictPlace(one.verdict) + (decides(one) ? 100 : 0);
  const sorted = [...answer.reasons].sort((a, b) => order(b) - order(a));
  const holds = sorted.filter((one) => one.settled && verdictPlace(one.verdict) === 0 && !decides(one));
  const rest = sorted.filter((one) => !holds.includes(one));
  const rows = (some) => h("ul", { class: "db-reasons" }, some.map((one) => h("li", {}, reason(book, build, one, right))));
  if (!rest.length) return h("section", { class: "db-part" }, h("h3", {}, "Why"), rows(holds));
  return h("section", { class: "db-part" }, h("h3", {}, "Why"), rows(rest), holds.length ? fold("holds", plural(holds.length, "point holds", "points hold"), rows(holds)) : null);
}

function reason(book, build, one, right) {
  const first = one.cases.length === 1 ? one.cases[0].because : `${one.cases.length} ways it may turn out.`;
  const taken = (build.taken_as_right ?? []).some((said) => said.rule === one.rule && (said.slot ?? null) === one.slot);
  const head = [h("span", { "data-verdict": one.verdict }, mark(one.verdict)), h("span", { class: "db-reason__title" }, one.title), h("em", { class: "db-reason__word" }, one.settled ? "" : "not settled; at worst: ", verdictWord(one.verdict))];
  return [
    fold(
      `reason ${one.rule} ${one.slot}`,
      head,
      one.cases.map((each) => caseBlock(book, each, one.cases.length > 1)),
      one.blocked?.length ? h("p", {}, `What would help is ruled out by what you said: ${joined(one.blocked)}.`) : null,
      h("p", {}, h("a", { href: link("rules", one.rule) }, "The rule, with all its cases")),
      tick(`right ${one.rule} ${one.slot}`, "Take this point as right, on my word", taken, (on) => right(one.rule, one.slot, on)),
    ),
    h("p", { class: "db-reason__because" }, first),
  ];
}

/** The address of a page of the reference, from the page of the check. */
export function link(section, id) {
  return new URL(`../${section}/${id}/`, document.baseURI).href;
}

function caseBlock(book, one, several) {
  const codes = one.codes.length
    ? h("table", { class: "db-codes" }, h("caption", {}, "Fault codes that may follow"), h("tbody", {}, one.codes.map((code) => h("tr", {}, h("th", { scope: "row", class: "db-code" }, code), h("td", {}, book.codeTitle(code))))))
    : null;
  return h(
    "div",
    { class: "db-turn" },
    several ? h("p", { class: "db-turn__verdict", "data-verdict": one.verdict }, mark(one.verdict), verdictWord(one.verdict)) : null,
    h("p", {}, one.because),
    one.goes_wrong ? h("p", {}, h("strong", {}, "What goes wrong: "), one.goes_wrong) : null,
    one.cautions.map((text) => h("p", { class: "db-caution" }, text)),
    codes,
    one.sources.length ? h("p", { class: "db-cited" }, `Source: ${joined(one.sources.map((id) => book.sourceOf(id)?.title ?? id))}`) : null,
  );
}

/** What must be added for certain, which ways there are, and what only if something turns out so. */
export function additionsPart(book, answer) {
  const { certain, one_of: ways, only_if: only } = answer.additions;
  if (!certain.length && !ways.length && !only.length) return null;
  return h(
    "section",
    { class: "db-part" },
    h("h3", {}, "What else it needs"),
    certain.length ? h("ul", { class: "db-additions" }, certain.map((one) => addition(book, one))) : null,
    ways.map((each) => h("div", { class: "db-routes" }, h("p", {}, "One of these ways, the preferred first:"), h("ol", {}, each.map((way) => h("li", {}, h("ul", { class: "db-additions" }, way.map((one) => addition(book, one)))))))),
    only.map((each) => h("div", { class: "db-if" }, h("ul", { class: "db-additions" }, each.then.map((one) => addition(book, one))), condition(each))),
  );
}

/** When an addition is needed; a long condition is folded. */
function condition({ when, then }) {
  const text = [h("strong", {}, "Only if "), `${when}.`];
  if (when.length < 180) return h("p", { class: "db-when" }, text);
  return fold(`when ${then.map((one) => one.addition).join(" ")} ${when.length}`, "Only if certain things turn out so", h("p", {}, text));
}

function addition(book, one) {
  const invented = book.invented("offers", one.addition);
  const offer = [one.stock, one.price === null || one.price === undefined ? null : `${one.price} ${currency(book, one.addition)}`.trim()].filter(Boolean);
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
    offer.length ? h("p", { class: "db-offer" }, offer.join(" · "), invented ? h("em", { class: "db-tag" }, INVENTED) : null) : null,
  );
}

function currency(book, id) {
  const layer = book.data.offers[id]?.layer ?? book.data.families[id]?.layer;
  return book.data.layers.find((one) => one.id === layer)?.currency ?? "";
}

/** For each part that is still to be chosen: the pick, what else would do, what would not and why. */
export function choicesPart(book, answer) {
  const shown = answer.choices.filter((one) => one.looked_at !== false);
  const unread = answer.choices.filter((one) => one.looked_at === false);
  if (!answer.choices.length) return null;
  return h(
    "section",
    { class: "db-part" },
    h("h3", {}, "Which part to take"),
    shown.map((one) => choice(book, one)),
    unread.length ? h("p", { class: "db-hint" }, `No rule looks at these, so any will do as far as asked: ${joined(unread.map((one) => one.title))}.`) : null,
  );
}

function choice(book, one) {
  const others = one.viable.filter((each) => !one.pick || each.index !== one.pick.index);
  return h(
    "div",
    { class: "db-choice" },
    h("h4", {}, one.title),
    one.find_out_first ? h("p", { class: "db-caution" }, "Find out the open questions before you buy: no single part suits every way they may turn out.") : null,
    one.pick ? h("p", {}, "Take: ", h("strong", {}, one.pick.title), inventedPart(book, one.pick), price(book, one.pick)) : null,
    others.length ? h("p", {}, `${one.pick ? "Would do as well" : "Would do"}: `, joined(others.map((each) => each.title), "or")) : null,
    one.depends?.length ? h("p", {}, "Depends on what is still open: ", joined(one.depends.map((each) => each.title), "or")) : null,
    one.specification.length ? [h("p", {}, one.state === "open" ? "No listed part will do. One like this would:" : "Order it like this:"), h("dl", { class: "db-spec" }, one.specification.flatMap((line) => [h("dt", {}, line.title), h("dd", {}, joined(line.values.map(([, label]) => label), "or"))]))] : null,
    one.not_viable.length ? fold(`not ${one.slot}`, `Will not do (${one.not_viable.length})`, h("ul", {}, one.not_viable.map((each) => h("li", {}, h("strong", {}, each.title), inventedPart(book, each), ": ", each.because)))) : null,
  );
}

function inventedPart(book, part) {
  return part.family && book.invented("families", part.family) ? h("em", { class: "db-tag" }, INVENTED) : null;
}

function price(book, part) {
  const known = [part.stock, part.price === null || part.price === undefined ? null : `${part.price} ${currency(book, part.family)}`.trim()].filter(Boolean);
  return known.length ? h("span", { class: "db-offer" }, ` ${known.join(" · ")}`) : null;
}
