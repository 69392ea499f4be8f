// The plain word of a verdict, as the page's own list of the four says it: ids and words stand in the markup only.

import { byKey } from "./dom.mjs";

function entries() {
  return [...(byKey(document, "verdict-list")?.querySelectorAll("[data-verdict]") ?? [])];
}

/** The word of a verdict; the verdict's id when the page does not know it. */
export function verdictWord(verdict) {
  return entries().find((one) => one.dataset.verdict === verdict)?.querySelector("strong").textContent ?? verdict;
}

/** How far down the list of the four a verdict stands: 0 is the best; what the page does not know counts as worst. */
export function verdictPlace(verdict) {
  const place = entries().findIndex((one) => one.dataset.verdict === verdict);
  return place < 0 ? entries().length : place;
}
