// The facts as the page needs them: titles, labels, lists of parts, ways to find out. It decides nothing.

import { EXISTS, IN_HAND, OTHER, RELATIONS, STATES, UNKNOWN, joined, lower } from "./words.mjs";
import { relationOf } from "./build.mjs";

/** The two shares in which the facts come, as one: what answers need, and what the page says beside them. */
export function together(needed, beside) {
  const whole = { ...needed };
  for (const [section, records] of Object.entries(beside)) {
    const more = Object.entries(records).map(([id, record]) => [id, { ...needed[section]?.[id], ...record }]);
    whole[section] = { ...needed[section], ...Object.fromEntries(more) };
  }
  return whole;
}

/** Wraps the parsed book; every look-up of something the book does not hold gives null or the id itself. */
export function openBook(data) {
  const slots = data.slot_order.map((id) => data.slots[id]);
  const kindOf = (slot) => data.kinds[data.slots[slot]?.kind] ?? null;
  const attribute = (slot, id) => kindOf(slot)?.attributes.find((one) => one.id === id) ?? null;
  const slotTitle = (slot) => data.slots[slot]?.title ?? slot;

  function valuesOf(one) {
    if (one.type === "number") return [];
    return one.type === "identity" ? [...one.values.filter(([id]) => id !== OTHER[0]), OTHER] : one.values;
  }

  function valueText(one, value) {
    if (value === "unknown" || value === null) return UNKNOWN;
    if (Array.isArray(value)) return joined(value.map((each) => valueText(one, each)), "or");
    if (typeof value === "object") return `${value.from} to ${value.to} ${one.unit ?? ""}`.trim();
    if (one.type === "number") return typeof value === "number" ? `${value} ${one.unit ?? ""}`.trim() : value;
    return valuesOf(one).find(([id]) => id === value)?.[1] ?? value;
  }

  /** What was told of one attribute, as `[title, value, assumed]`. */
  function toldText(slot, id, told) {
    const one = attribute(slot, id);
    const marked = told !== null && typeof told === "object" && "is" in told;
    const value = marked ? told.is : told;
    return [one?.title ?? id, one ? valueText(one, value) : String(value), marked && told.assumed === true];
  }

  const familyTitle = (id) => data.families[id]?.title ?? id;

  /** What was said of a part as a whole. */
  function wholeText(entry) {
    if (entry.family) return familyTitle(entry.family);
    if (entry.one_of) return `one of ${joined(entry.one_of.map(familyTitle), "or")}`;
    if (entry.in_hand) return `${IN_HAND.split(":")[0].toLowerCase()}: ${entry.in_hand.length}`;
    if (entry.state) return STATES.find(([id]) => id === entry.state)?.[2] ?? entry.state;
    return entry.told ? "described" : EXISTS;
  }

  function nameText(name) {
    const [slot, id] = name.split(".");
    return id ? `${slotTitle(slot)}, ${lower(attribute(slot, id)?.title ?? id)}` : slotTitle(slot);
  }

  function relationText(said) {
    const { kind, of, is } = relationOf(said);
    const names = joined(of.map(nameText));
    if (is === "not_sure") return `Not sure whether ${names} ${RELATIONS[kind].title}`;
    return `${names} ${is === "no" ? RELATIONS[kind].no : RELATIONS[kind].title}`;
  }

  return {
    data,
    edition: data.edition,
    slots,
    kindOf,
    attribute,
    slotTitle,
    valuesOf,
    toldText,
    wholeText,
    nameText,
    relationText,
    familyTitle,
    familiesOf: (slot) => Object.values(data.families).filter((one) => one.kind === data.slots[slot]?.kind),
    invented: (section, id) => data[section][id]?.invented === true,
    findOut: (id) => data.find_out[id] ?? null,
    ruleTitle: (id) => data.rules[id.split("@")[0]]?.title ?? id,
    codeTitle: (id) => data.codes[id]?.title ?? "",
    sourceOf: (id) => data.sources[id] ?? null,
    subjects: data.subject_order.map((id) => data.subjects[id]),
    builds: Object.values(data.builds),
  };
}
