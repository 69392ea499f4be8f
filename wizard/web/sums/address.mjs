// What stands after `#` on the page of a sum: its inputs as named parameters, which unit system comes first, and the check
// that the reader came from.
//
//     teeth=40&axle_ratio=3.42&diameter_mm=225/60R16&first=other&check=harness%3Dopen

import { NO_VALUE, NOT_HERE, SOME_CHOICE, TWICE, UNREADABLE } from "./words.mjs";

const FIRST = "first";
const CHECK = "check";
const ORDERS = ["si", "other"];

/** Reads an address: `{ inputs, first, check, notUsed }`, where `notUsed` names each part that was not used, with why. */
export function readAddress(text, names) {
  const found = { inputs: {}, first: ORDERS[0], check: "", notUsed: [] };
  const seen = new Set();
  for (const part of text.split("&").filter(Boolean)) {
    const cut = part.indexOf("=");
    const name = decoded(cut < 0 ? part : part.slice(0, cut));
    const value = decoded(cut < 0 ? "" : part.slice(cut + 1));
    const why = refusal(name, value, names, seen);
    if (why) found.notUsed.push({ name: name ?? part, value: value ?? "", why });
    else if (name === FIRST) found.first = value;
    else if (name === CHECK) found.check = value;
    else found.inputs[name] = value.trim();
    seen.add(name);
  }
  return found;
}

function refusal(name, value, names, seen) {
  if (name === null || value === null) return UNREADABLE;
  if (![...names, FIRST, CHECK].includes(name)) return NOT_HERE;
  if (seen.has(name)) return TWICE;
  if (value.trim() === "") return NO_VALUE;
  return name === FIRST && !ORDERS.includes(value) ? SOME_CHOICE : null;
}

/** Writes an address: inputs in the order of the form, without the empty ones and without what is the usual. */
export function writeAddress(inputs, { first = ORDERS[0], check = "" } = {}) {
  const parts = Object.entries(inputs).filter(([, value]) => value !== "");
  if (first !== ORDERS[0]) parts.push([FIRST, first]);
  if (check) parts.push([CHECK, check]);
  return parts.map(([name, value]) => `${name}=${encoded(value)}`).join("&");
}

function decoded(text) {
  try {
    return decodeURIComponent(text);
  } catch {
    return null;
  }
}

function encoded(text) {
  return encodeURIComponent(text).replace(/%(2F|3A|2C)/g, (code) => decodeURIComponent(code));
}
