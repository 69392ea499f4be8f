// The one box: finds as you type, arrows choose, Enter says it. The focus stays, so that the next part can follow.

import { announce, byKey, h } from "./dom.mjs";
import { find } from "./search.mjs";
import { INVENTED } from "./words.mjs";

/** Wires the box of the markup. `pick(item, typed)` is called with what was chosen. */
export function wireBox(root, getIndex, pick) {
  const input = byKey(root, "box");
  const options = byKey(root, "options");
  const said = byKey(root, "box-said");
  let shown = { found: [], typed: null, near: false };
  let active = 0;

  function close() {
    shown = { found: [], typed: null, near: false };
    options.replaceChildren();
    options.hidden = true;
    input.setAttribute("aria-expanded", "false");
    input.removeAttribute("aria-activedescendant");
  }

  function draw() {
    options.replaceChildren(...shown.found.map(option));
    options.hidden = shown.found.length === 0;
    input.setAttribute("aria-expanded", String(shown.found.length > 0));
    point(0);
  }

  function option(item, number) {
    const title = item.type === "number" ? `${item.title} ${shown.typed} ${typeof shown.typed === "string" ? "" : item.note ?? ""}`.trim() : item.title;
    return h(
      "li",
      { id: `db-option-${number}`, role: "option", "aria-selected": "false", onpointerdown: (event) => event.preventDefault(), onclick: () => choose(number) },
      h("span", { class: "db-option__title" }, title),
      h("span", { class: "db-option__note" }, item.type === "number" ? "" : item.note, item.invented ? h("em", { class: "db-tag" }, INVENTED) : null),
    );
  }

  function point(number) {
    active = number;
    [...options.children].forEach((child, place) => child.setAttribute("aria-selected", String(place === number)));
    if (options.children[number]) {
      input.setAttribute("aria-activedescendant", options.children[number].id);
      options.children[number].scrollIntoView({ block: "nearest" });
    } else input.removeAttribute("aria-activedescendant");
  }

  function choose(number) {
    const item = shown.found[number];
    const { typed } = shown;
    if (!item) return;
    input.value = "";
    close();
    announce(said, `Said: ${item.title}.`);
    pick(item, typed);
  }

  function look() {
    const text = input.value;
    if (!text.trim()) return close();
    const index = getIndex();
    if (!index) return announce(said, "The facts are still being fetched.");
    shown = find(index, text);
    draw();
    const count = shown.found.length;
    announce(said, !count ? "Nothing like that is in the facts. Try the plain name of the part." : shown.near ? "Nothing has all of these words; the nearest are listed." : "");
    return undefined;
  }

  input.addEventListener("input", look);
  input.addEventListener("focus", () => input.value && look());
  input.addEventListener("blur", close);
  input.addEventListener("keydown", (event) => {
    const count = shown.found.length;
    if (event.key === "ArrowDown" || event.key === "ArrowUp") {
      event.preventDefault();
      if (!count) look();
      else point((active + (event.key === "ArrowDown" ? 1 : count - 1)) % count);
    } else if (event.key === "Enter") {
      event.preventDefault();
      choose(active);
    } else if (event.key === "Escape") close();
  });
  return { look, focus: () => input.focus() };
}
