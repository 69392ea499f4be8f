// Which part to take where it is ours to choose: what would do, what depends, and what will not do and why.

import { button, fold, h } from "./dom.mjs";
import { ruleLink } from "./links.mjs";
import { inventedTag, offerText } from "./offers.mjs";
import { FIND_OUT_FIRST, NOT_FOR_SALE, NOT_SOLD, TO_ORDER, joined } from "./words.mjs";

const AT_ONCE = 6;           // rows of a group that stand open; the rest is folded, with their number said

/** For each part that is still to be chosen, all that there is to choose from. `take(slot, part)` takes one. */
export function choicesPart(book, answer, take) {
  const shown = answer.choices.filter((one) => one.looked_at !== false);
  const unread = answer.choices.filter((one) => one.looked_at === false);
  if (!answer.choices.length) return null;
  return h(
    "section",
    { class: "db-part" },
    h("h3", {}, "Which part to take"),
    shown.map((one) => choice(book, one, take)),
    unread.length ? h("p", { class: "db-hint" }, `No rule looks at these, so any will do as far as asked: ${joined(unread.map((one) => one.title))}.`) : null,
  );
}

function choice(book, one, take) {
  const first = (part) => part.index === one.pick?.index;
  const viable = [...one.viable].sort((a, b) => Number(first(b)) - Number(first(a)));
  const listed = viable.some(first) || !one.pick ? viable : [one.pick, ...viable];
  const depends = one.depends ?? [];
  const rows = (parts) => parts.map((part) => row(book, one, part, first(part), take));
  const unsold = one.state === "open" && one.pick?.for_sale === false;
  return h(
    "div",
    { class: "db-choice", "data-slot": one.slot },
    h("h4", {}, one.title),
    one.find_out_first ? h("p", { class: "db-caution" }, FIND_OUT_FIRST) : null,
    unsold ? h("p", { class: "db-hint" }, NOT_SOLD) : null,
    one.viable.length + depends.length + one.specification.length + one.not_viable.length ? null : h("p", { class: "db-hint" }, TO_ORDER),
    group(`viable ${one.slot}`, "Would do", rows(listed)),
    group(`depends ${one.slot}`, "Depends on what is still open", rows(depends)),
    one.specification.length ? [h("p", { class: "db-choice__head" }, specified(one.state, depends)), h("dl", { class: "db-spec" }, one.specification.flatMap((line) => [h("dt", {}, line.title), h("dd", {}, joined(line.values.map(([, label]) => label), "or"))]))] : null,
    group(`not ${one.slot}`, "Will not do", byReason(book, one.not_viable)),
  );
}

/** What the list says that a part must be: for an order, for want of a listed part, or to choose by. */
function specified(state, depends) {
  if (state !== "open") return "Order it like this:";
  return depends.length ? "To come out well, whichever you take must be like this:" : "No listed part will do. One like this would:";
}

/** A group with its head; when it is long, what comes later is folded and counted. */
function group(key, head, rows) {
  if (!rows.length) return null;
  const later = rows.slice(AT_ONCE);
  return h(
    "div",
    { class: "db-choice__group" },
    h("p", { class: "db-choice__head" }, head),
    h("ul", { class: "db-choice__rows" }, rows.slice(0, AT_ONCE)),
    later.length ? fold(key, `${later.length} more`, h("ul", { class: "db-choice__rows" }, later)) : null,
  );
}

function row(book, { slot, state }, part, suggested, take) {
  const record = book.data.families[part.family];
  return h(
    "li",
    { class: "db-choice__row" },
    h("span", { class: "db-choice__part" }, h("strong", {}, part.title), inventedTag(record), suggested ? h("em", { class: "db-choice__first" }, "suggested") : null, h("span", { class: "db-offer" }, offerText(book, part, record) || (state === "open" ? NOT_FOR_SALE : ""))),
    button("Take it", () => take(slot, part), { "aria-label": `Take it: ${part.title}`, "data-key": `take ${slot} ${part.index}` }),
  );
}

/** What will not do, the parts with one and the same reason together. */
function byReason(book, parts) {
  const groups = new Map();
  for (const part of parts) groups.set(part.because, [...(groups.get(part.because) ?? []), part]);
  return [...groups].map(([because, some]) =>
    h(
      "li",
      {},
      h("strong", {}, joined(some.map((part) => part.title))),
      inventedTag(some.map((part) => book.data.families[part.family]).find((record) => record?.invented)),
      `: ${because} `,
      some[0].rule ? ruleLink(some[0].rule, "The rule", some[0].case) : null,
    ),
  );
}
