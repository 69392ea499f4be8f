// What can be said of several parts at once: one donor, made for each other, the same or different.

import { button, fold, h } from "./dom.mjs";
import { tick } from "./attribute.mjs";
import { relationOf, sayRelation } from "./build.mjs";
import { ANSWERS, RELATIONS } from "./words.mjs";

/** The fold with what was said of several parts and a form to say more. */
export function relationParts(book, build, change) {
  const said = (build.relations ?? []).map((one) => {
    const { kind, of, says } = relationOf(one);
    const gone = () => change((held) => sayRelation(held, kind, of, undefined));
    const key = `${kind} ${of.join(" ")}`;
    return h(
      "li",
      {},
      book.relationText(one),
      tick(`${key} checked`, "I have checked this myself", says === "checked", (on) => change((held) => sayRelation(held, kind, of, relationOf(one).is, on ? "checked" : "customer"))),
      button("Remove", gone, { class: "db-press db-press--quiet", "data-key": `${key} off` }),
    );
  });
  const head = said.length ? `How parts belong together (${said.length})` : "How parts belong together";
  return fold(
    "relations",
    head,
    h("p", { class: "db-hint" }, "Parts that stayed together since they left one vehicle often suit each other even when nobody knows their values. What you say here counts as your word for it unless you have checked it."),
    said.length ? h("ul", { class: "db-relations" }, said) : null,
    form(book, build, change),
  );
}

function form(book, build, change) {
  const fields = h("div", {});
  const kinds = h("select", { "data-key": "relation kind", onchange: () => draw(kinds.value) }, Object.entries(RELATIONS).map(([kind, { title }]) => h("option", { value: kind }, `These ${title}`)));

  function draw(kind) {
    fields.replaceChildren(RELATIONS[kind].many ? ofParts(book, build, kind, change) : ofValues(book, build, kind, change));
  }
  draw(kinds.value);
  return h("div", { class: "db-relation-form" }, h("label", { class: "db-field" }, h("span", {}, "Say that"), kinds), fields);
}

function answers(say, wrong) {
  return h("div", { class: "db-answers" }, ANSWERS.map(([value, label]) => button(label, () => say(value), { "data-key": `relation ${value}` })), wrong);
}

function ofParts(book, build, kind, change) {
  const mentioned = book.slots.filter((slot) => build.slots[slot.id] !== undefined);
  const others = book.slots.filter((slot) => build.slots[slot.id] === undefined);
  const chosen = new Set();
  const wrong = h("p", { class: "db-wrong", role: "alert" });
  const box = (slot) => tick(`relation ${slot.id}`, slot.title, false, (on) => (on ? chosen.add(slot.id) : chosen.delete(slot.id)));
  const say = (value) => {
    if (chosen.size < 2) wrong.textContent = "Tick at least two parts.";
    else change((held) => sayRelation(held, kind, [...chosen].sort(), value));
  };
  return h("fieldset", { class: "db-say" }, h("legend", {}, "Which parts?"), mentioned.map(box), fold("relation others", "Other parts", others.map(box)), answers(say, wrong));
}

function ofValues(book, build, kind, change) {
  const names = book.slots
    .filter((slot) => build.slots[slot.id] !== undefined)
    .flatMap((slot) => book.kindOf(slot.id).attributes.filter((one) => one.type === "identity").map((one) => [`${slot.id}.${one.id}`, `${slot.title}: ${one.title}`]));
  if (names.length < 2) return h("p", { class: "db-hint" }, "Say two parts first; then their plugs and the like can be compared.");
  const pick = (label) => h("select", { "aria-label": label }, names.map(([value, text]) => h("option", { value }, text)));
  const [one, other] = [pick("The one"), pick("The other")];
  other.selectedIndex = 1;
  const wrong = h("p", { class: "db-wrong", role: "alert" });
  const say = (value) => {
    if (one.value === other.value) wrong.textContent = "Choose two different things.";
    else change((held) => sayRelation(held, kind, [one.value, other.value].sort(), value));
  };
  return h("fieldset", { class: "db-say" }, h("legend", {}, "Which two?"), one, other, answers(say, wrong));
}
