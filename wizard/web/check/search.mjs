// Finds parts, values and plain words in the facts as somebody types. Pure: it knows no page.

import { RELATIONS, STATES } from "./words.mjs";
import { sayWhole, tell } from "./build.mjs";

const SHOWN = 9;
const IDLE = new Set(
  "a an and are at be but by can for from get got has have i if in into is it its me my of on or our put so some that the their them there this to up use want was what will with would you your".split(" "),
);
const RANK = { slot: 1.6, family: 1.5, value: 1.1, number: 1.1, state: 0.85, subject: 0.8, build: 0.8, relation: 0.9 };
const SIZE = /^(\d{3}\/\d{2,3}\S*\d{2}|\d{2}(\.\d+)?x\d+(\.\d+)?r\d{2})$/i;

/** The words of a text, small, without marks that nobody types. */
export function tokens(text) {
  return text.toLowerCase().normalize("NFKD").replace(/[\u0300-\u036f]/g, "").split(/[^\p{L}\p{N}./]+/u).map((word) => word.replace(/^[./]+|[./]+$/g, "")).filter(Boolean);
}

/**
 * Everything that can be found: `{type, title, note, invented, words: [[token, weight]], change(build, typed), place}`.
 * `change` returns the new build; items without it open a `place` of the page instead.
 */
export function makeIndex(book) {
  const items = [];
  const add = (type, title, note, texts, more) => {
    const words = new Map();
    for (const [weight, text] of texts) {
      for (const token of tokens(text ?? "")) words.set(token, Math.max(weight, words.get(token) ?? 0));
    }
    items.push({ type, title, note, invented: false, ...more, words: [...words] });
  };
  for (const slot of book.slots) addSlot(book, slot, add);
  for (const subject of book.subjects) {
    add("subject", subject.question, "ask about this", [[2, subject.title], [2, subject.question]], {
      change: (build) => ({ ...build, asks: [...new Set([...(build.asks ?? []), subject.id])] }),
    });
  }
  for (const one of book.builds) {
    add("build", `“${one.asked}”`, "an example to start from", [[1.5, one.asked], [2, one.title]], { change: () => one.build, invented: one.invented });
  }
  for (const [kind, { title }] of Object.entries(RELATIONS)) {
    add("relation", `Parts that ${title}`, "say how parts belong together", [[2, title], [1, "set donor same matched unaltered"]], { place: "relations", kind });
  }
  return { items, rarity: rarities(items) };
}

function addSlot(book, slot, add) {
  const kind = book.kindOf(slot.id);
  const names = synonyms(book, slot, kind);
  add("slot", slot.title, "I have one, not known which yet", [[3, slot.title], [3, kind.title], [2.5, names], [1, kind.means]], {
    slot: slot.id,
    change: (build) => (build.slots[slot.id] === undefined ? sayWhole(build, slot.id, { state: "not_sure" }) : build),
  });
  for (const family of book.familiesOf(slot.id)) {
    const texts = [[3, family.title], [3, family.also_called.join(" ")], [2, family.stock], [2, slot.title], [2, kind.title], [1.5, names]];
    add("family", family.title, slot.title, texts, { slot: slot.id, invented: family.invented, change: (build) => sayWhole(build, slot.id, { family: family.id }) });
  }
  for (const [state, label] of STATES.slice(1)) {
    add("state", `${slot.title}: ${label}`, "", [[2, slot.title], [1.5, kind.title], [1.5, names], [2, `${label} without missing buy`]], {
      slot: slot.id,
      change: (build) => sayWhole(build, slot.id, { state }),
    });
  }
  for (const one of kind.attributes) addAttribute(book, slot, kind, names, one, add);
}

function addAttribute(book, slot, kind, names, one, add) {
  const texts = [[2, slot.title], [2, kind.title], [1.5, names], [2, one.title], [0.7, one.ask]];
  for (const [value, label] of book.valuesOf(one)) {
    add("value", `${slot.title}: ${label}`, one.title, [[2.5, label], ...texts], { slot: slot.id, change: (build) => tell(build, slot.id, one.id, value) });
  }
  if (one.type === "number") {
    add("number", `${slot.title}: ${one.title}`, one.unit, [[2, one.unit], ...texts], {
      slot: slot.id,
      number: one,
      change: (build, typed) => tell(build, slot.id, one.id, typed),
    });
  }
}

/** Other names of a part: those of a term of the same name. */
function synonyms(book, slot, kind) {
  const same = new Set([slot.id, kind.id, slot.title.toLowerCase(), kind.title.toLowerCase()]);
  return Object.values(book.data.terms)
    .filter((term) => same.has(term.id) || [...same].some((name) => name.length > 4 && term.title.toLowerCase().includes(name)))
    .flatMap((term) => [term.title, term.abbreviation ?? "", ...(term.also_called ?? [])])
    .join(" ");
}

function rarities(items) {
  const seen = new Map();
  for (const { words } of items) for (const [word] of words) seen.set(word, (seen.get(word) ?? 0) + 1);
  return (word) => Math.log(1 + items.length / (1 + (seen.get(word) ?? 0)));
}

/** The best items for what was typed, best first; with `typed` the number or size that goes with it, if one does. */
export function find(index, text) {
  const all = tokens(text);
  const wanted = all.filter((token) => !IDLE.has(token));
  const typed = typedNumber(all);
  const asked = wanted.length ? wanted : all;
  if (!asked.length) return { found: [], typed, near: false };
  const scored = index.items.map((item) => score(index, item, asked, typed)).filter((one) => one.score > 0);
  const whole = scored.filter((one) => one.hit === asked.length);
  const pool = whole.length ? whole : scored.filter((one) => one.hit >= Math.max(1, Math.ceil(asked.length / 3)));
  pool.sort((a, b) => b.score - a.score || a.item.title.localeCompare(b.item.title, "en"));
  return { found: pool.slice(0, SHOWN).map((one) => one.item), typed, near: !whole.length };
}

function typedNumber(all) {
  for (const token of all) {
    if (SIZE.test(token)) return token.toUpperCase().replace("X", "x");
    if (/^\d+(\.\d+)?$/.test(token)) return Number(token);
  }
  return null;
}

function suits(item, typed) {
  if (item.type !== "number") return true;
  if (typeof typed === "string") return item.number.reads !== null;
  return typed !== null && typed >= item.number.low && typed <= item.number.high;
}

function score(index, item, asked, typed) {
  if (!suits(item, typed)) return { item, score: 0, hit: 0 };
  let sum = 0;
  let hit = 0;
  for (const token of asked) {
    const isTyped = item.type === "number" && (String(typed) === token || typeof typed === "string" && typed.toLowerCase() === token);
    const best = isTyped ? 3 : bestMatch(item.words, token) * index.rarity(token);
    if (best > 0) hit += 1;
    sum += best;
  }
  const opens = item.title.toLowerCase().startsWith(asked[0]) ? 1.3 : 1;
  const short = 1 + 2 / (4 + item.title.length);
  return { item, hit, score: sum * RANK[item.type] * opens * short * (hit / asked.length) };
}

function bestMatch(words, token) {
  let best = 0;
  for (const [word, weight] of words) {
    const match = word === token ? 1 : word.startsWith(token) ? 0.8 : token.length > 3 && (near(word, token) || word.includes(token)) ? 0.4 : 0;
    best = Math.max(best, match * weight);
  }
  return best;
}

/** Whether two words differ by one letter, or by two that changed places; plurals and slips of the finger. */
function near(word, token) {
  if (token.length < 4 || Math.abs(word.length - token.length) > 1) return false;
  let start = 0;
  while (start < word.length && word[start] === token[start]) start += 1;
  const [a, b] = [word.slice(start), token.slice(start)];
  return a.slice(1) === b.slice(1) || a.slice(1) === b || a === b.slice(1) || (a[0] === b[1] && a[1] === b[0] && a.slice(2) === b.slice(2));
}
