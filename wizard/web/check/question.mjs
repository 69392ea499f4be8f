// One next question at a time, and what to do while there is none.

import { button, byKey, fold, h, mark, redraw } from "./dom.mjs";
import { wayToFindOut } from "./findout.mjs";
import { saidNotSure } from "./build.mjs";
import { verdictWord } from "./verdicts.mjs";
import { BANDS, MORE_TO_FIND_OUT, NONE_OF_THESE, NOT_SURE, ONE_MORE, PAIR, SETTLED, START, STILL_OPEN } from "./words.mjs";

/** The place of the next question. `say(question, value)` answers one; `begin(slot)` says that there is such a part. */
export function questionPlace(root, book, say, begin) {
  const place = byKey(root, "next");
  let skipped = new Set();
  let unsure = null;
  let wanted = null;
  let last = { build: null, answer: null };

  function draw() {
    const { build, answer } = last;
    const open = answer ? answer.questions.filter((one) => !saidNotSure(build, one)) : [];
    const next = open.find((one) => one.ask === wanted) ?? answer?.questions.find((one) => one.ask === wanted) ?? open.find((one) => !skipped.has(one.ask)) ?? open[0];
    const kept = unsure && (!next || unsure.ask !== next.ask) && saidNotSure(build, unsure) ? unsureCard(unsure) : null;
    redraw(place, kept, next ? card(next, open.length) : rest(build, answer));
  }

  function go(question, value) {
    unsure = value === null ? question : null;
    wanted = null;
    skipped.delete(question.ask);
    say(question, value);
  }

  function unsureCard(question) {
    const again = () => {
      wanted = question.ask;
      unsure = null;
      draw();
      focus();
    };
    return h(
      "div",
      { class: "db-unsure" },
      h("p", {}, h("strong", {}, "You are not sure: "), question.text, " It counts as not known. This is how to find out."),
      wayToFindOut(book, question.find_out, question.attr) ?? h("p", {}, "Look at the part, or ask whoever had it before."),
      button("I have found out", again, { "data-key": "found-out" }),
    );
  }

  function card(question, count) {
    const legend = h("legend", { class: "db-question__text", tabindex: "-1", "data-key": "question" }, question.text);
    const way = wayToFindOut(book, question.find_out, question.attr);
    const settles = question.settles.map(book.ruleTitle);
    const touches = question.touches.map(book.ruleTitle);
    const later = () => {
      skipped.add(question.ask);
      wanted = null;
      const next = last.answer.questions.find((one) => !skipped.has(one.ask) && !saidNotSure(last.build, one));
      if (!next) skipped = new Set([question.ask]);
      draw();
      focus();
    };
    return h(
      "fieldset",
      { class: "db-question", "data-ask": question.ask },
      legend,
      question.slot && question.attr && question.attr !== "fitted" ? h("p", { class: "db-question__of" }, book.nameText(question.ask)) : null,
      answers(question),
      h(
        "div",
        { class: "db-question__side" },
        button(question.attr || question.relation ? NOT_SURE : NONE_OF_THESE, () => go(question, null), { class: "db-press db-press--unsure", "data-key": "not-sure" }),
        count > 1 ? button("Ask me something else", later, { class: "db-press db-press--quiet", "data-key": "later" }) : null,
      ),
      pair(question),
      way ? fold(`way ${question.ask}`, "How to find out", way) : null,
      settles.length || touches.length
        ? fold(`why ${question.ask}`, "Why this is asked", h("p", {}, settles.length ? "It may settle by itself: " : "It has a part in: "), h("ul", {}, (settles.length ? settles : touches).map((text) => h("li", {}, text))))
        : null,
    );
  }

  function answers(question) {
    if (question.unit !== null || question.low !== null) return numberAnswer(question);
    const listed = question.values.length || question.attr ? question.values : book.familiesOf(question.slot).map((one) => [one.id, one.title]);
    const presses = listed.map(([value, label], place) => button([h("span", {}, label), leadsTo(question.leads[place])], () => go(question, value), { "data-key": `value ${value}` }));
    return h("div", { class: presses.length > 4 ? "db-answers db-answers--many" : "db-answers" }, presses);
  }

  /** What an answer would lead to, as far as the rules go that ask; nothing where that was not worked out. */
  function leadsTo(lead) {
    if (!lead) return null;
    const settled = lead.best === lead.worst;
    return h("span", { class: "db-leads", ...(settled ? { "data-verdict": lead.best } : {}) }, settled ? [mark(lead.best), verdictWord(lead.best)] : MORE_TO_FIND_OUT);
  }

  function bands(question) {
    if (!question.bands.length) return null;
    return [h("p", { class: "db-hint" }, BANDS), h("ul", { class: "db-bands" }, question.bands.map((band) => h("li", {}, h("span", {}, band.text), leadsTo(band.lead))))];
  }

  /** The second question, where no answer to this one settles anything by itself. */
  function pair(question) {
    if (!question.with) return null;
    const known = last.answer.questions.some((one) => one.ask === question.with.ask);
    return h("p", { class: "db-hint" }, PAIR, " ", known ? button(question.with.text, () => jump(question.with.ask), { class: "db-press db-press--quiet", "data-key": "pair" }) : question.with.text);
  }

  function jump(ask) {
    wanted = ask;
    unsure = null;
    draw();
    focus();
  }

  function numberAnswer(question) {
    const attribute = book.attribute(question.slot, question.attr);
    const said = h("p", { class: "db-wrong", role: "alert" });
    const input = h("input", { type: "text", inputmode: attribute?.reads ? "text" : "decimal", autocomplete: "off", "data-key": "number", "aria-label": `${question.text} ${question.unit ?? ""}` });
    const send = () => {
      const value = readNumber(input.value, attribute);
      if (value === null) said.textContent = `Write a number from ${question.low} to ${question.high} ${question.unit ?? ""}${attribute?.reads ? ", or a size as on the sidewall" : ""}.`;
      else go(question, value);
    };
    input.addEventListener("keydown", (event) => event.key === "Enter" && send());
    return [h("div", { class: "db-number" }, input, h("span", {}, question.unit ?? ""), button("Say it", send), said), bands(question)];
  }

  function rest(build, answer) {
    if (!answer) return h("p", { class: "db-next-step" }, START);
    if (answer.verdict !== null && answer.scope.asked.length === 0) return h("div", {}, h("p", { class: "db-next-step" }, ONE_MORE), suggestions(answer));
    if (answer.questions.length) return h("p", { class: "db-next-step" }, STILL_OPEN);
    return h("div", {}, h("p", { class: "db-next-step" }, answer.verdict === null ? "Two things you said cannot both be true. Change one of them." : SETTLED), suggestions(answer));
  }

  function suggestions(answer) {
    const counts = new Map();
    for (const { unsaid } of answer.scope.not_looked_at) for (const slot of unsaid) counts.set(slot, (counts.get(slot) ?? 0) + 1);
    const best = [...counts].sort((a, b) => b[1] - a[1] || a[0].localeCompare(b[0], "en")).slice(0, 6);
    if (!best.length) return null;
    return h("div", {}, h("p", {}, "These have something to do with what you said:"), h("div", { class: "db-answers" }, best.map(([slot]) => button(book.slotTitle(slot), () => begin(slot), { "data-key": `begin ${slot}` }))));
  }

  function focus() {
    byKey(place, "question")?.focus({ preventScroll: true });
    place.scrollIntoView({ block: "nearest" });
  }

  return {
    update: (build, answer) => {
      const answered = place.contains(document.activeElement);
      last = { build, answer };
      draw();
      if (answered && !place.contains(document.activeElement)) focus();
    },
    ask: jump,
    reset: () => {
      skipped = new Set();
      unsure = null;
      wanted = null;
    },
  };
}

/** The number or size that was typed, or null when it is neither or lies outside what the attribute can be. */
export function readNumber(text, attribute) {
  const plain = text.trim().replace(",", ".").replace(/[\s\u202f]+/g, attribute?.reads ? " " : "");
  const number = /^-?\d+(\.\d+)?$/.test(plain) ? Number(plain) : NaN;
  if (!Number.isNaN(number)) return !attribute || (number >= attribute.low && number <= attribute.high) ? number : null;
  return attribute?.reads && /\d/.test(plain) ? plain : null;
}
