// What the shop gives for a part or an addition: stock number, price, and whether it is invented.

import { h } from "./dom.mjs";
import { INVENTED } from "./words.mjs";

function known(value) {
  return value !== null && value !== undefined;
}

/** A price with the currency of the layer that the record belongs to. */
export function priceText(book, value, record) {
  const currency = book.data.layers.find((one) => one.id === record?.layer)?.currency ?? "";
  return `${value} ${currency}`.trim();
}

/** Stock number and price of something offered, as one text; empty when neither is known. */
export function offerText(book, one, record) {
  return [one.stock, known(one.price) ? priceText(book, one.price, record) : null].filter(Boolean).join(" · ");
}

/** The mark of what is made up for demonstration; nothing for the rest. */
export function inventedTag(record) {
  return record?.invented ? h("em", { class: "db-tag" }, INVENTED) : null;
}

/** What the parts of a change cost by the listed prices, in words; empty when none of them has a price. */
export function partsPrice(book, change) {
  const families = change.parts.map((part) => book.data.families[part.family]);
  const priced = families.filter((family) => known(family?.price));
  if (!priced.length || !known(change.price)) return "";
  const rest = families.length - priced.length;
  return `${priceText(book, change.price, priced[0])}${rest ? ", and what has no listed price" : ""}`;
}
