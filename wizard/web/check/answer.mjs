// The answer: verdict first, stops before anything else, then why, what is missing and what is still open.

import { byKey, fold, h, list, mark, redraw } from "./dom.mjs";
import { additionsPart, condition } from "./argument.mjs";
import { changesPart, clashPart } from "./changes.mjs";
import { choicesPart } from "./choices.mjs";
import { copyButton } from "./address.mjs";
import { notLookedAt, questionsPart, restsPart, sourcesPart, sumsPart } from "./grounds.mjs";
import { reasonsPart } from "./why.mjs";
import { verdictWord } from "./verdicts.mjs";
import { NEVER, NO_ANSWER_YET, NO_RULE_SPEAKS, ONE_MORE, STANDING, joined, lower, plural } from "./words.mjs";

const STOPS_OPEN = 3;        // stops that stand open; of more, certain ones always do
const SUBJECTS_OPEN = 10;

/**
 * The place of the verdict and the answer. `acts` holds what can be done from it: `ask(name)` a question, take a point as
 * `right(rule, slot, yes)`, `take(slot, part)` a part to choose, `go(build)` on with a change.
 */
export function answerPlace(root, book, acts) {
  const line = byKey(root, "verdict");
  const words = byKey(root, "verdict-words");
  const picture = byKey(root, "verdict-mark");
  const place = byKey(root, "answer");
  const copy = copyButton();

  function say(text, verdict, picked) {
    line.dataset.verdict = verdict;
    picture.replaceChildren(...(picked ? [mark(picked)] : []));
    if (words.textContent !== text) words.textContent = text;
  }

  function waiting(text) {
    say(text, "", null);
    redraw(place);
  }

  function show(build, answer) {
    if (!answer) return waiting(NO_ANSWER_YET);
    if (saysNothing(answer)) {
      say(ONE_MORE, "", null);
      redraw(place, stops(answer), notLookedAt(book, answer), restsPart(answer));
      return undefined;
    }
    say(answer.headline, answer.verdict ?? "none", answer.refused ? "stop" : answer.verdict);
    redraw(place, head(answer), body(build, answer), foot(answer));
    return undefined;
  }

  function head(answer) {
    return [
      answer.contradiction ? h("div", { class: "db-stop" }, h("p", {}, "These cannot all be true; change one of them:"), list(answer.contradiction)) : null,
      answer.summary.length ? h("div", { class: "db-summary" }, answer.summary.map((text) => h("p", text === answer.scope.text ? { class: "db-summary__scope" } : {}, text))) : null,
      answer.limit_hit ? h("p", { class: "db-caution" }, "The search stopped at a limit before it had looked at everything, so the answer is the safe one.") : null,
      stops(answer),
      verdicts(answer),
    ];
  }

  function body(build, answer) {
    return [
      clashPart(answer),
      changesPart(book, answer, acts.go),
      reasonsPart(book, build, answer, acts.right),
      additionsPart(book, answer),
      choicesPart(book, answer, acts.take),
      questionsPart(book, build, answer, acts.ask),
      sumsPart(book, build, answer),
      restsPart(answer),
      notLookedAt(book, answer),
    ];
  }

  function foot(answer) {
    return [
      sourcesPart(book, answer),
      h("p", { class: "db-standing" }, STANDING),
      h("p", { class: "db-edition" }, "Facts edition ", h("span", { class: "db-code" }, answer.edition)),
      copy,
    ];
  }

  function verdicts(answer) {
    if (answer.subjects.length < 2) return null;
    const spoken = new Set(answer.reasons.map((one) => one.subject));
    const [told, silent] = [answer.subjects.filter((one) => spoken.has(one.subject)), answer.subjects.filter((one) => !spoken.has(one.subject))];
    const rows = (some) => h("ul", { class: "db-subjects" }, some.map((one) => h("li", { "data-verdict": one.verdict }, mark(one.verdict), h("span", {}, one.title), h("em", {}, verdictWord(one.verdict)))));
    return [
      told.length > SUBJECTS_OPEN ? fold("subjects", `Subject by subject (${told.length})`, rows(told)) : rows(told),
      silent.length ? h("p", { class: "db-hint" }, `${NO_RULE_SPEAKS} ${joined(silent.map((one) => lower(one.title)))}.`) : null,
    ];
  }

  return {
    show,
    waiting,
    never: () => waiting(NEVER),
    working: (text) => {
      place.setAttribute("aria-busy", String(text !== ""));
      byKey(root, "working").textContent = text;
    },
    wrong: (text) => {
      say(text, "", null);
      redraw(place, h("p", {}, "Change or remove what cannot be read; the rest stays as it is."));
    },
  };
}

/** Whether an answer has nothing to tell, because no rule looks at what was said so far. */
export function saysNothing(answer) {
  return answer.verdict !== null && !answer.refused && !answer.scope.asked.length && !answer.reasons.length;
}

function stops(answer) {
  const { certain, possible, hold } = answer.stops;
  const one = (head, stop, where = "Instead: ") =>
    h(
      "div",
      { class: "db-stop" },
      h("p", { class: "db-stop__head" }, mark("stop"), h("strong", {}, head)),
      h("p", { class: "db-stop__say" }, stop.say),
      stop.when ? condition(`stop when ${stop.stop} ${stop.slot}`, "This counts if ", stop.when) : null,
      h("p", {}, stop.why),
      h("p", {}, where ? h("strong", {}, where) : null, stop.instead),
    );
  if (!certain.length && !possible.length && !hold.length) return null;
  const all = [...certain.map((stop) => one(`Stop: ${stop.title}`, stop)), ...hold.map((stop) => one(`Before anything else: ${stop.title}`, stop, "")), ...possible.map((stop) => one(`If it is so, stop: ${stop.title}`, stop))];
  const open = Math.max(certain.length, STOPS_OPEN);
  const later = all.slice(open);
  return h("section", { class: "db-stops", "aria-label": "Stops" }, all.slice(0, open), later.length ? fold("stops later", `${plural(later.length, "more stop", "more stops")}, to be read before work`, later) : null);
}
