// From an answer of the check to the page of a sum, with what was told put in.

import { entryOf } from "../check/build.mjs";
import { writeAddress } from "./address.mjs";

/**
 * The address of the page that works out one entry of an answer's `sums`, from the page of the check.
 * `data` is the book, `build` what was told, `address` what follows the `#` of the check, so that the page of the sum can
 * lead back. An input goes along as it was told, or as listed where one number is listed; never a guess inside a range.
 */
export function sumLink(data, build, entry, address = "") {
  const record = data.sums[entry.sum];
  if (!record) return null;
  const inputs = Object.fromEntries(Object.keys(record.inputs).sort().map((param, place) => [param, numberOf(build, entry.inputs[place])]));
  return new URL(`../sums/${record.function}/#${writeAddress(inputs, { check: address })}`, document.baseURI).href;
}

/** The rows of an entry stand in the order of the record's inputs, each named as the attribute that it is read from. */
function numberOf(build, row) {
  if (!row) return "";
  const [slot, attribute] = row.name.split(".");
  const said = entryOf(build, slot)?.told?.[attribute];
  const told = said !== null && typeof said === "object" && "is" in said ? said.is : said;
  if (typeof told === "number" || (typeof told === "string" && /\d/.test(told))) return String(told);
  return row.known && row.low !== null && row.low === row.high ? String(row.low) : "";
}
