// One attribute of one part: what it is, or may be, or that nobody knows; and how to find out.

import { button, fold, h } from "./dom.mjs";
import { wayToFindOut } from "./findout.mjs";
import { readNumber } from "./question.mjs";
import { NOT_SURE } from "./words.mjs";

/**
 * A fold for one attribute. `told` is what was told of it, or undefined; `tell(value)` is called with the new value,
 * undefined when nothing is told any more. `key` makes the fold known when it is drawn again.
 */
export function attributeFold(book, slot, one, told, key, tell) {
  const [title, text, assumed] = told === undefined ? [one.title, "", false] : book.toldText(slot, one.id, told);
  const head = [h("span", { class: "db-say__title" }, title), text ? h("span", { class: "db-say__value" }, text, assumed ? " (assumed)" : "") : null];
  const value = told !== null && typeof told === "object" && "is" in told ? told.is : told;
  const say = (next, isAssumed = assumed) => tell(next === undefined || !isAssumed || next === "unknown" ? next : { is: next, assumed: true });
  const name = `${key} ${one.id}`;
  return fold(
    name,
    head,
    h("fieldset", { class: "db-say" }, h("legend", {}, one.ask), one.type === "number" ? numberRows(one, value, name, say) : valueRows(book, one, value, name, say)),
    tick(`${name} unknown`, NOT_SURE, value === "unknown", (on) => say(on ? "unknown" : undefined)),
    value !== undefined && value !== "unknown" ? tick(`${name} assumed`, "Assumed: I take it to be so", assumed, (on) => say(value, on)) : null,
    wayToFindOut(book, one.find_out, one.id),
  );
}

/** A box to tick with its words. */
export function tick(key, label, checked, change, properties = {}) {
  const box = h("input", { type: "checkbox", "data-key": key, ...properties, onchange: (event) => change(event.target.checked) });
  box.checked = checked;
  return h("label", { class: "db-tick" }, box, " ", label);
}

function valueRows(book, one, value, name, say) {
  const held = value === undefined || value === "unknown" ? [] : [value].flat();
  const change = (id) => (on) => {
    const next = book.valuesOf(one).map(([each]) => each).filter((each) => (each === id ? on : held.includes(each)));
    say(next.length === 0 ? undefined : next.length === 1 ? next[0] : next);
  };
  return [
    h("p", { class: "db-hint" }, "Tick what it is. Tick several if it is one of them."),
    book.valuesOf(one).map(([id, label]) => tick(`${name} ${id}`, label, held.includes(id), change(id))),
  ];
}

function numberRows(one, value, name, say) {
  const range = value !== null && typeof value === "object" && !Array.isArray(value) ? value : Array.isArray(value) ? { from: Math.min(...value), to: Math.max(...value) } : null;
  const low = input(range ? range.from : value === "unknown" ? "" : value, `${name} low`, one.reads ? "The value, or the size as on the sidewall" : "The value");
  const high = input(range ? range.to : "", `${name} high`, "To, if it lies between two values");
  const wrong = h("p", { class: "db-wrong", role: "alert" });
  const send = () => {
    const [from, to] = [low, high].map((field) => (field.value.trim() ? readNumber(field.value, one) : undefined));
    if (from === null || to === null || (to !== undefined && !(from <= to))) {
      wrong.textContent = `Write a number from ${one.low} to ${one.high} ${one.unit}${one.reads ? ", or a size as on the sidewall" : ""}; the smaller one first.`;
    } else say(from === undefined ? undefined : to === undefined ? from : { from, to });
  };
  for (const field of [low, high]) field.addEventListener("keydown", (event) => event.key === "Enter" && send());
  return h("div", { class: "db-number" }, low, " to ", high, h("span", {}, one.unit), button("Say it", send, { "data-key": `${name} send` }), wrong);
}

function input(value, key, label) {
  return h("input", { type: "text", autocomplete: "off", "data-key": key, "aria-label": label, value: value === undefined || value === null ? "" : String(value) });
}
