// Why the verdict is what it is: each reason, open to its cases and to what they rest on.

import { fold, h, mark } from "./dom.mjs";
import { tick } from "./attribute.mjs";
import { inARow, ruleLink, sourceLink } from "./links.mjs";
import { FROM_WORDS, SOURCE_WORDS, day, joined, plural } from "./words.mjs";
import { verdictPlace, verdictWord } from "./verdicts.mjs";

/** The reasons, what decides first and what holds folded away, each open to its cases, codes, cautions and grounds. */
export function reasonsPart(book, build, answer, right) {
  if (!answer.reasons.length) return null;
  const decides = (one) => answer.decided_by?.rule === one.rule && answer.decided_by.slot === one.slot;
  const order = (one) => verdictPlace(one.verdict) + (decides(one) ? 100 : 0);
  const sorted = [...answer.reasons].sort((a, b) => order(b) - order(a));
  const holds = sorted.filter((one) => one.settled && verdictPlace(one.verdict) === 0 && !decides(one));
  const others = sorted.filter((one) => !one.cases.length && !holds.includes(one));
  const rest = sorted.filter((one) => !holds.includes(one) && !others.includes(one));
  const rows = (some) => h("ul", { class: "db-reasons" }, some.map((one) => h("li", {}, reason(book, build, one, right))));
  if (!rest.length) return h("section", { class: "db-part" }, h("h3", {}, "Why"), rows(holds));
  return h("section", { class: "db-part" }, h("h3", {}, "Why"), rows(rest), others.length ? fold("others", `${plural(others.length, "more rule has", "more rules have")} a part in it`, rows(others)) : null, holds.length ? fold("holds", plural(holds.length, "point holds", "points hold"), rows(holds)) : null);
}

function reason(book, build, one, right) {
  if (!one.cases.length) return briefly(one);
  const first = one.cases.length === 1 ? one.cases[0].because : `${one.cases.length} ways it may turn out.`;
  const taken = (build.taken_as_right ?? []).some((said) => said.rule === one.rule && (said.slot ?? null) === one.slot);
  const head = [h("span", { "data-verdict": one.verdict }, mark(one.verdict)), h("span", { class: "db-reason__title" }, one.title), h("em", { class: "db-reason__word" }, one.settled ? "" : "not settled; at worst: ", verdictWord(one.verdict))];
  return [
    fold(
      `reason ${one.rule} ${one.slot}`,
      head,
      one.cases.map((each) => caseBlock(book, one, each)),
      one.blocked?.length ? h("p", {}, `What would help is ruled out by what you said: ${joined(one.blocked)}.`) : null,
      h("p", {}, ruleLink(one.rule, "The rule, with all its cases")),
      tick(`right ${one.rule} ${one.slot}`, "Take this point as right, on my word", taken, (on) => right(one.rule, one.slot, on)),
    ),
    h("p", { class: "db-reason__because" }, first),
  ];
}

/** Of a rule of which the answer tells only the outcome: its title, which leads to the rule. */
function briefly(one) {
  return h("p", { class: "db-reason__brief" }, h("span", { "data-verdict": one.verdict }, mark(one.verdict)), " ", ruleLink(one.rule, one.title), one.settled ? "" : ", not settled");
}

function caseBlock(book, of, one) {
  const several = of.cases.length > 1;
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
    of.settled ? restsOn(book, one) : null,
    h("p", { class: "db-cited" }, "From ", ruleLink(of.rule, "this case of the rule", one.case), one.sources.length ? [", source: ", inARow(one.sources.map((id) => sourceLink(book, id)))] : null, "."),
    of.settled ? weakest(book, one.weakest_source) : null,
  );
}

/** What a settled case took into account, each with where it came from; nothing when it looked at no value. */
function restsOn(book, one) {
  if (!one.facts?.length) return null;
  return [
    h("p", { class: "db-facts__head" }, "It rests on this:"),
    h("ul", { class: "db-facts" }, one.facts.map((fact) => h("li", {}, fact.text, " ", h("span", { class: "db-facts__from", "data-from": fact.from }, origin(book, fact))))),
  ];
}

function origin(book, fact) {
  const words = FROM_WORDS[fact.from] ?? fact.from;
  const source = fact.source ? [": ", sourceLink(book, fact.source)] : null;
  return ["(", words, source, fact.checked ? `, checked ${day(fact.checked)}` : null, ")"];
}

function weakest(book, source) {
  return source ? h("p", { class: "db-cited db-weakest" }, "The weakest of all this: ", sourceLink(book, source.source), `, ${SOURCE_WORDS[source.kind] ?? source.kind}.`) : null;
}
