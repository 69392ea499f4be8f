// The notices of the page: damaged links, what could not start, and what still works.

import { byKey, h, list, redraw } from "./dom.mjs";

/** Shows a notice in its place, each kind at most once; without content it goes. */
export function notice(root, kind, ...content) {
  const place = byKey(root, "notices");
  const others = [...place.children].filter((one) => one.dataset.notice !== kind);
  const shown = content.some(Boolean) ? [h("div", { class: "db-notice", role: "status", "data-notice": kind }, content)] : [];
  redraw(place, others, shown);
}

/** What of a link was not used, and why. */
export function unusedList(notUsed) {
  return [h("p", {}, h("strong", {}, "Some of the link was not used:")), list(notUsed.map((one) => [h("code", {}, one.value ? `${one.name}=${one.value}` : one.name), ` ${one.why}`]), { class: "db-unused" })];
}
