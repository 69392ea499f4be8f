// The plain word of a verdict, as the page's own list of the four says it: ids and words stand in the markup only.

import { byKey } from "./dom.mjs";

/** The word of a verdict; the verdict's id when the page does not know it. */
export function verdictWord(verdict) {
  const entries = [...(byKey(document, "verdict-list")?.querySelectorAll("[data-verdict]") ?? [])];
  return entries.find((one) => one.dataset.verdict === verdict)?.querySelector("strong").textContent ?? verdict;
}
