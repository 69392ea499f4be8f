// What the reader has said, and every way to say more: each function takes a build and returns a new one.

export const EMPTY = Object.freeze({ slots: {} });

/** What was said of a part, always as an object; null when it was not mentioned. */
export function entryOf(build, slot) {
  const said = build.slots[slot];
  return said === undefined ? null : typeof said === "string" ? { state: said } : said;
}

export function isEmpty(build) {
  return Object.keys(build).every((key) => {
    const value = build[key];
    return !value || (typeof value === "object" && Object.keys(value).length === 0);
  });
}

/** The build with this said of the part; with null, the part is not mentioned any more. */
export function putEntry(build, slot, entry) {
  const slots = { ...build.slots };
  if (entry === null) delete slots[slot];
  else slots[slot] = short(entry);
  return entry === null ? withoutRelationsOf({ ...build, slots }, slot) : { ...build, slots };
}

function short(entry) {
  const kept = Object.fromEntries(Object.entries(entry).filter(([key, value]) => value !== undefined && value !== false && !(key === "told" && !Object.keys(value).length)));
  return Object.keys(kept).join() === "state" ? kept.state : kept;
}

function withoutRelationsOf(build, slot) {
  if (!build.relations) return build;
  const touches = (name) => name.split(".")[0] === slot;
  return putRelations(build, build.relations.filter((said) => !relationOf(said).of.some(touches)));
}

/** The part as a whole: listed, one of several, in hand, or a state; what was told of it stays. */
export function sayWhole(build, slot, whole) {
  const { told, keep } = entryOf(build, slot) ?? {};
  const gone = whole.state === "none";
  return putEntry(build, slot, { ...whole, ...(gone ? {} : { told, keep }) });
}

export function sayKeep(build, slot, keep) {
  return putEntry(build, slot, { ...entryOf(build, slot), keep });
}

/** The build with a value told of a part; with undefined, nothing is told of it any more. */
export function tell(build, slot, attribute, value) {
  return putEntry(build, slot, tellEntry(entryOf(build, slot) ?? {}, attribute, value));
}

/** The same for one part: that there is none is taken back, and a part nothing is said of any more is not known. */
export function tellEntry(entry, attribute, value) {
  const told = { ...entry.told };
  if (value === undefined) delete told[attribute];
  else told[attribute] = value;
  const next = { ...entry, told };
  if (value !== undefined && next.state === "none") delete next.state;
  if (!Object.keys(told).length && !["state", "family", "one_of", "in_hand"].some((form) => next[form])) next.state = "not_sure";
  return next;
}

/** The build with one of the parts taken that an answer offers for a slot: a listed one, or one of those in hand. */
export function takePart(build, slot, part) {
  const { told, keep, in_hand: hand } = entryOf(build, slot) ?? {};
  const taken = hand ? hand[part.index] : { family: part.family };
  return putEntry(build, slot, { ...taken, told: { ...told, ...taken.told }, keep });
}

export function sameBuild(one, other) {
  return JSON.stringify(one) === JSON.stringify(other);
}

export function relationOf(said) {
  const kind = ["came_together", "made_for", "same"].find((name) => said[name]);
  return { kind, of: said[kind], is: said.is ?? "yes", says: said.says ?? "customer" };
}

function sameRelation(said, kind, of) {
  const other = relationOf(said);
  return other.kind === kind && [...other.of].sort().join() === [...of].sort().join();
}

export function findRelation(build, kind, of) {
  return (build.relations ?? []).find((said) => sameRelation(said, kind, of)) ?? null;
}

/** The build with a relation said; with undefined, it is not said any more. */
export function sayRelation(build, kind, of, is, says = "customer") {
  const others = (build.relations ?? []).filter((said) => !sameRelation(said, kind, of));
  return putRelations(build, is === undefined ? others : [...others, { [kind]: of, is, ...(says === "checked" ? { says } : {}) }]);
}

function putRelations(build, relations) {
  const { relations: _, ...rest } = build;
  return relations.length ? { ...rest, relations } : rest;
}

export function put(build, key, value) {
  const { [key]: _, ...rest } = build;
  const empty = !value || (Array.isArray(value) && !value.length);
  return empty ? rest : { ...rest, [key]: value };
}

export function takeAsRight(build, rule, slot, yes) {
  const others = (build.taken_as_right ?? []).filter((said) => said.rule !== rule || (said.slot ?? null) !== slot);
  return put(build, "taken_as_right", yes ? [...others, { rule, ...(slot ? { slot } : {}) }] : others);
}

/** The build with a question answered. `value` is one of the question's, a number, a size, or null for not sure. */
export function answerQuestion(build, question, value) {
  const { slot, attr, relation, of } = question;
  if (relation) return sayRelation(build, relation, of, value ?? "not_sure");
  if (attr === "fitted") return sayFitted(build, slot, value);
  if (attr) return tell(build, slot, attr, value ?? "unknown");
  return sayWhole(build, slot, value === null ? { state: "not_sure" } : { family: value });
}

function sayFitted(build, slot, value) {
  const entry = entryOf(build, slot) ?? {};
  const told = entry.told && Object.keys(entry.told).length;
  if (value === null) return putEntry(build, slot, { ...entry, state: "maybe" });
  if (value === "no") return putEntry(build, slot, { state: "none" });
  const { state: _, ...rest } = entry;
  return putEntry(build, slot, told ? rest : { ...rest, state: "not_sure" });
}

/** Whether the reader has already answered this question with not sure. */
export function saidNotSure(build, question) {
  const { slot, attr, relation, of } = question;
  if (relation) return findRelation(build, relation, of)?.is === "not_sure";
  const entry = entryOf(build, slot);
  if (!entry) return false;
  if (attr === "fitted") return entry.state === "maybe";
  if (!attr) return entry.state === "not_sure";
  const told = entry.told?.[attr];
  return told === "unknown" || told?.is === "unknown";
}
