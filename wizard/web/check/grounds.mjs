// What the answer rests on: what was told, what is open and how to find it out, sums, and sources.

import { button, fold, h, list } from "./dom.mjs";
import { wayToFindOut } from "./findout.mjs";
import { inARow, sourceLink } from "./links.mjs";
import { saidNotSure } from "./build.mjs";
import { sumLink } from "../sums/link.mjs";
import { verdictWord } from "./verdicts.mjs";
import { SOURCE_WORDS, joined, plural } from "./words.mjs";

/** The open questions, the most useful first, each with how to find it out. */
export function questionsPart(book, build, answer, ask) {
  if (!answer.questions.length) return null;
  return h(
    "section",
    { class: "db-part" },
    h("h3", {}, "Still open, the most useful first"),
    h(
      "ol",
      { class: "db-open" },
      answer.questions.map((one) =>
        h(
          "li",
          {},
          fold(
            `open ${one.ask}`,
            [h("span", {}, one.text), saidNotSure(build, one) ? h("em", {}, " (you are not sure)") : null],
            wayToFindOut(book, one.find_out, one.attr) ?? h("p", {}, "Look at the part, or ask whoever had it before."),
            button("Answer this now", () => ask(one.ask), { "data-key": `now ${one.ask}` }),
          ),
        ),
      ),
    ),
    answer.left_out.questions ? h("p", { class: "db-hint" }, `And ${plural(answer.left_out.questions, "more question", "more questions")}, as these are answered.`) : null,
  );
}

/** What was told, assumed and unknown. */
export function restsPart(answer) {
  const { told, assumed, unknown } = answer.rests_on;
  if (!told.length && !assumed.length && !unknown.length) return null;
  const without = answer.without_assumed ? h("p", {}, "Without what is assumed: ", h("strong", {}, verdictWord(answer.without_assumed)), ".") : null;
  const group = (title, items) => (items.length ? [h("h4", {}, title), list(items.map((one) => one.text))] : null);
  return h("section", { class: "db-part db-rests" }, h("h3", {}, "From what you told"), group("Assumed", assumed), without, group("Not known", unknown), group("Told", told));
}

/** Checks of workmanship still to be made, and rules that were not looked at. */
export function notLookedAt(book, answer) {
  const { not_looked_at: passed, checks } = answer.scope;
  if (!passed.length && !checks.length) return null;
  const rows = passed.map((one) => [one.title, one.unsaid.length ? ` (not said: ${joined(one.unsaid.map(book.slotTitle))})` : " (not asked)"]);
  return h(
    "section",
    { class: "db-part" },
    h("h3", {}, "What this does not cover"),
    checks.length ? fold("checks", `Checks to make yourself (${checks.length})`, list(checks.map((one) => [h("strong", {}, one.title), ` ${one.text}`]))) : null,
    passed.length ? fold("passed", `${plural(passed.length, "rule", "rules")} not looked at`, list(rows)) : null,
  );
}

/** Each sum with its formula and inputs, and the way to its own page with what was told put in. */
export function sumsPart(book, build, answer) {
  if (!answer.sums.length) return null;
  const unknown = answer.left_out.sums;
  return h(
    "section",
    { class: "db-part" },
    h("h3", {}, "Sums"),
    answer.sums.map((one, place) =>
      fold(
        `sum ${one.sum} ${place}`,
        [h("span", {}, one.title), h("strong", { class: "db-sum__value" }, one.shown)],
        h("p", { class: "db-formula" }, one.formula),
        h("table", { class: "db-inputs" }, h("tbody", {}, one.inputs.map((each) => h("tr", {}, h("th", { scope: "row" }, each.title), h("td", {}, each.known === false ? "not known yet" : each.shown))))),
        ownPage(book, build, one),
        one.sources.length ? h("p", { class: "db-cited" }, "Source: ", inARow(one.sources.map((id) => sourceLink(book, id)))) : null,
      ),
    ),
    unknown ? h("p", { class: "db-hint" }, `And ${plural(unknown, "more sum", "more sums")}, of which no input is known yet.`) : null,
  );
}

/** The link to a sum's own page. The address of the check is taken when somebody is about to follow it: it may have changed. */
function ownPage(book, build, one) {
  const address = () => sumLink(book.data, build, one, location.hash.slice(1));
  const renew = (event) => event.currentTarget.setAttribute("href", address());
  return address() ? h("p", {}, h("a", { href: address(), onclick: renew, onfocus: renew, onpointerenter: renew }, "Work it out with other numbers")) : null;
}

/** The sources, the weakest named. */
export function sourcesPart(book, answer) {
  if (!answer.sources.length) return null;
  const weakest = answer.weakest_source;
  return h(
    "section",
    { class: "db-part" },
    h("h3", {}, "Sources"),
    weakest ? h("p", {}, "The weakest: ", sourceLink(book, weakest.source), `, ${SOURCE_WORDS[weakest.kind] ?? weakest.kind}.`) : null,
    list(answer.sources.map((one) => [sourceLink(book, one.source), `: ${SOURCE_WORDS[one.kind] ?? one.kind}`])),
  );
}
