// What a change did: one folded line that sets the new answer against the one before, as the engine compares them.

import { byKey, fold, h, mark, redraw } from "./dom.mjs";
import { ruleLink } from "./links.mjs";
import { NOTHING_CHANGED, NOT_ASKED, NO_VERDICT, lower, plural } from "./words.mjs";
import { verdictWord } from "./verdicts.mjs";

/** The place of that line. */
export function changedPlace(root) {
  const place = byKey(root, "changed");
  return {
    show: (difference) => redraw(place, line(difference)),
    clear: () => redraw(place),
  };
}

function line(difference) {
  const body = details(difference);
  const head = (text) => h("span", {}, h("strong", {}, "What changed:"), ` ${text}`);
  if (!body.length) return h("p", { class: "db-changed__none", "data-key": "what changed" }, head(NOTHING_CHANGED));
  return fold("what changed", head(inShort(difference)), body);
}

function inShort({ verdict, reasons, additions, stops, sums }) {
  const count = (number, one, many) => (number ? [plural(number, one, many)] : []);
  return [
    verdict.before === verdict.after ? "the verdict stays" : `now ${lower(word(verdict.after))}, before ${lower(word(verdict.before))}`,
    ...count(stops.new.length, "new stop", "new stops"),
    ...count(stops.gone.length, "stop gone", "stops gone"),
    ...count(reasons.length, "reason differs", "reasons differ"),
    ...count(additions.new.length, "new addition", "new additions"),
    ...count(additions.gone.length, "addition gone", "additions gone"),
    ...count(sums.length, "sum differs", "sums differ"),
  ].join("; ");
}

function details({ verdict, subjects, reasons, additions, stops, sums }) {
  const moved = verdict.before === verdict.after ? [] : [h("li", {}, beforeAndNow(verdict.before, verdict.after, NO_VERDICT))];
  return [
    part("Verdict", [...moved, ...subjects.map((one) => h("li", {}, `${one.title}: `, beforeAndNow(one.before, one.after, NOT_ASKED)))]),
    part("Stops", cameAndWent(stops)),
    part("Reasons", reasons.map(reason)),
    part("Additions", cameAndWent(additions)),
    part("Sums", sums.map((one) => h("li", {}, `${one.title}: `, `${one.before ?? "not there"} before, `, h("strong", {}, one.after ?? "not there"), " now"))),
  ].flat();
}

function part(title, rows) {
  return rows.length ? [h("h4", {}, title), h("ul", { class: "db-changed__rows" }, rows)] : [];
}

function cameAndWent({ new: came, gone }) {
  return [...came.map((text) => h("li", {}, h("strong", {}, "New: "), text)), ...gone.map((text) => h("li", {}, h("strong", {}, "Gone: "), text))];
}

function reason(one) {
  const row = (when, verdict, said) => {
    if (said === null) return h("li", {}, `${when}: not in question.`);
    if (!said.length) return h("li", {}, `${when}: `, h("span", { "data-verdict": verdict }, mark(verdict)), ` ${word(verdict)}.`);
    const settled = said.length === 1;
    const words = settled ? ` ${word(verdict)}. ${said[0]}` : ` not settled, at worst ${lower(word(verdict))}: ${said.length} ways it may turn out.`;
    return h("li", {}, `${when}: `, h("span", { "data-verdict": verdict }, mark(verdict)), words);
  };
  return h("li", {}, ruleLink(one.rule, one.title), h("ul", { class: "db-changed__pair" }, row("Before", one.before, one.was), row("Now", one.after, one.now)));
}

function beforeAndNow(before, after, none) {
  const one = (verdict) => (verdict === null ? none : [h("span", { "data-verdict": verdict }, mark(verdict)), " ", word(verdict)]);
  return ["before: ", one(before), "; now: ", one(after)];
}

function word(verdict) {
  return verdict === null ? NO_VERDICT : verdictWord(verdict);
}
