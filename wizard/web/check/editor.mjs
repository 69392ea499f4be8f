// Everything that can be said of one part: listed, one of several, in hand, to be bought; kept; and each attribute.

import { button, fold, h } from "./dom.mjs";
import { attributeFold, tick } from "./attribute.mjs";
import { entryOf, putEntry, sayKeep, sayWhole, tell, tellEntry } from "./build.mjs";
import { HAVE, IN_HAND, INVENTED, ONE_OF, STATES } from "./words.mjs";

const HAS_IT = "have";
const SEVERAL = "one_of";
const HAND = "in_hand";

/** The fields for one part. `change(build => build)` is called with what the reader says. */
export function partEditor(book, build, slot, change) {
  const entry = entryOf(build, slot);
  const form = !entry ? "" : (entry.state ?? [SEVERAL, HAND].find((name) => entry[name]) ?? HAS_IT);
  const families = book.familiesOf(slot);
  const whole = (next) => change((held) => sayWhole(held, slot, next));
  const fields = [ways(book, slot, form, families, entry, change, whole)];
  if (form === HAS_IT) fields.push(familyChoice(book, slot, entry.family, `part ${slot}`, (family) => whole(family ? { family } : {})));
  if (form === SEVERAL) fields.push(severalChoice(families, slot, entry, whole));
  if (form === HAND) fields.push(handList(book, slot, entry, whole));
  if (entry && form !== "none") {
    fields.push(tick(`keep ${slot}`, "Keep it as it is: nothing about it may be changed", entry.keep === true, (on) => change((held) => sayKeep(held, slot, on))));
    fields.push(attributes(book, slot, entry.told ?? {}, slot, (id, value) => change((held) => tell(held, slot, id, value))));
  }
  return h("div", { class: "db-editor" }, fields);
}

function ways(book, slot, form, families, entry, change, whole) {
  const offered = [["", "Nothing said"], [HAS_IT, HAVE], ...STATES];
  if (families.length > 1) offered.splice(2, 0, [SEVERAL, ONE_OF]);
  offered.splice(families.length > 1 ? 3 : 2, 0, [HAND, IN_HAND]);
  const pick = (value) => {
    if (value === "") change((held) => putEntry(held, slot, null));
    else if (value === HAS_IT) whole({});
    else if (value === SEVERAL) whole({ one_of: families.slice(0, 2).map((one) => one.id) });
    else if (value === HAND) whole({ in_hand: [entry?.family ? { family: entry.family } : {}, {}] });
    else whole({ state: value });
  };
  return choice("How do things stand?", `way ${slot}`, offered, form, pick);
}

function choice(label, key, offered, chosen, pick) {
  const select = h("select", { "data-key": key, onchange: (event) => pick(event.target.value) }, offered.map(([value, text]) => h("option", { value }, text)));
  select.value = chosen;
  return h("label", { class: "db-field" }, h("span", {}, label), select);
}

function familyChoice(book, slot, family, key, pick) {
  const listed = book.familiesOf(slot).map((one) => [one.id, one.title + (one.invented ? ` (${INVENTED})` : "")]);
  if (!listed.length) return null;
  return choice("Which one?", key, [["", "Not a listed part: I describe it below"], ...listed], family ?? "", pick);
}

function severalChoice(families, slot, entry, whole) {
  const change = (id) => (on) => {
    const next = families.map((one) => one.id).filter((each) => (each === id ? on : entry.one_of.includes(each)));
    whole(next.length > 1 ? { one_of: next } : next.length ? { family: next[0] } : { state: "not_sure" });
  };
  return h(
    "fieldset",
    { class: "db-say" },
    h("legend", {}, "Which of these may it be?"),
    families.map((one) => tick(`several ${slot} ${one.id}`, one.title + (one.invented ? ` (${INVENTED})` : ""), entry.one_of.includes(one.id), change(one.id))),
  );
}

function handList(book, slot, entry, whole) {
  const put = (parts) => whole(parts.length ? { in_hand: parts } : { state: "not_sure" });
  const replace = (number, part) => put(entry.in_hand.map((each, place) => (place === number ? part : each)));
  const rows = entry.in_hand.map((part, number) => {
    const key = `hand ${slot} ${number}`;
    const tellPart = (id, value) => {
      const { state: _, ...next } = tellEntry(part, id, value);
      replace(number, Object.keys(next.told).length ? next : { ...(next.family ? { family: next.family } : {}) });
    };
    return h(
      "li",
      {},
      familyChoice(book, slot, part.family, key, (family) => replace(number, { ...(family ? { family } : {}), ...(part.told ? { told: part.told } : {}) })),
      fold(`${key} more`, part.told ? "What is known of it" : "Describe it", attributes(book, slot, part.told ?? {}, key, tellPart)),
      button("Take it off the list", () => put(entry.in_hand.filter((_, place) => place !== number)), { class: "db-press db-press--quiet", "data-key": `${key} off` }),
    );
  });
  return h("div", {}, h("ol", { class: "db-hand" }, rows), button("One more in hand", () => put([...entry.in_hand, {}]), { "data-key": `hand ${slot} more` }));
}

/** The attributes, those first that were told of; those that cannot apply to what was told are left out. */
function attributes(book, slot, told, key, tellOne) {
  const all = book.kindOf(slot).attributes.filter((one) => told[one.id] !== undefined || mayApply(one, told));
  const folds = all.map((one) => attributeFold(book, slot, one, told[one.id], key, (value) => tellOne(one.id, value)));
  return h("div", { class: "db-attributes" }, h("p", { class: "db-hint" }, "What do you know of it?"), folds);
}

function mayApply(one, told) {
  return Object.entries(one.applies_when).every(([id, values]) => {
    const said = told[id] !== null && typeof told[id] === "object" && "is" in told[id] ? told[id].is : told[id];
    return said === undefined || said === "unknown" || [said].flat().some((value) => values.includes(value));
  });
}
