// What is asked: these parts or the whole swap, which questions, and whether anything may be added.

import { fold, h } from "./dom.mjs";
import { tick } from "./attribute.mjs";
import { put } from "./build.mjs";
import { TYPES } from "./words.mjs";

/** The fold for what is asked and what may be added. */
export function scopeParts(book, build, change) {
  const asks = build.asks ?? [];
  const nothing = build.nothing_added ?? false;
  const allowed = typeof nothing === "object" ? nothing.except : [];
  const ask = (id) => (on) => change((held) => put(held, "asks", book.subjects.map((one) => one.id).filter((each) => (each === id ? on : asks.includes(each)))));
  const except = (id) => (on) => {
    const next = TYPES.map(([type]) => type).filter((type) => (type === id ? on : allowed.includes(type)));
    change((held) => put(held, "nothing_added", next.length ? { except: next } : true));
  };
  const limited = build.whole_swap || asks.length || nothing;
  return fold(
    "scope",
    limited ? "What is asked, and what may be added (changed)" : "What is asked, and what may be added",
    h(
      "fieldset",
      { class: "db-say" },
      h("legend", {}, "What is asked?"),
      tick("whole", "The whole swap: parts not mentioned count as not known", build.whole_swap === true, (on) => change((held) => put(held, "whole_swap", on))),
      fold("asks", asks.length ? `Only these questions (${asks.length})` : "Only certain questions", book.subjects.map((one) => tick(`ask ${one.id}`, one.question, asks.includes(one.id), ask(one.id)))),
    ),
    h(
      "fieldset",
      { class: "db-say" },
      h("legend", {}, "What may be added?"),
      tick("nothing", "Nothing: it must work as it is", Boolean(nothing), (on) => change((held) => put(held, "nothing_added", on))),
      nothing ? [h("p", { class: "db-hint" }, "Allowed all the same:"), TYPES.map(([id, label]) => tick(`except ${id}`, label, allowed.includes(id), except(id)))] : null,
    ),
  );
}
