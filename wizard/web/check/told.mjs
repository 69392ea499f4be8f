// What was told, part by part, each open to change; and, folded, everything else that can be said.

import { button, byKey, fold, h, lazyFold, redraw } from "./dom.mjs";
import { partEditor } from "./editor.mjs";
import { entryOf, isEmpty, putEntry } from "./build.mjs";
import { relationParts } from "./relations.mjs";
import { scopeParts } from "./scope.mjs";
import { INVENTED } from "./words.mjs";

/** The place of what was told. `change(build => build)` is called with what the reader says. */
export function toldPlace(root, book, change) {
  const told = byKey(root, "told");
  const more = byKey(root, "more");

  function item(build, slot) {
    const entry = entryOf(build, slot.id);
    const invented = entry.family && book.invented("families", entry.family);
    const lines = Object.entries(entry.told ?? {}).map(([id, value]) => {
      const [title, text, assumed] = book.toldText(slot.id, id, value);
      return h("li", {}, `${title}: `, h("strong", {}, text), assumed ? h("em", {}, " (assumed)") : null);
    });
    const gone = () => change((held) => putEntry(held, slot.id, null));
    return h(
      "li",
      { class: "db-told__part" },
      h(
        "div",
        { class: "db-told__head" },
        h("div", {}, h("span", { class: "db-told__slot" }, slot.title), h("span", { class: "db-told__what" }, book.wholeText(entry), entry.keep ? ", to be kept as it is" : "", invented ? h("em", { class: "db-tag" }, INVENTED) : null)),
        button("Remove", gone, { class: "db-press db-press--quiet", "aria-label": `Remove: ${slot.title}`, "data-key": `remove ${slot.id}` }),
      ),
      lines.length ? h("ul", { class: "db-told__values" }, lines) : null,
      lazyFold(`edit ${slot.id}`, "Change or say more", () => partEditor(book, build, slot.id, change)),
    );
  }

  function draw(build) {
    const mentioned = book.slots.filter((slot) => build.slots[slot.id] !== undefined);
    const others = book.slots.filter((slot) => build.slots[slot.id] === undefined);
    redraw(told, mentioned.length ? h("ul", { class: "db-told__list" }, mentioned.map((slot) => item(build, slot))) : h("p", { class: "db-hint" }, "Nothing yet."));
    redraw(
      more,
      relationParts(book, build, change),
      fold(
        "others",
        "All other parts, and everything that can be said of them",
        others.map((slot) => lazyFold(`edit ${slot.id}`, slot.title, () => partEditor(book, build, slot.id, change))),
      ),
      scopeParts(book, build, change),
    );
    byKey(root, "start-over").hidden = isEmpty(build);
  }

  return {
    update: draw,
    openRelations: (kind) => {
      const details = byKey(more, "relations");
      details.open = true;
      const select = byKey(details, "relation kind");
      select.value = kind;
      select.dispatchEvent(new Event("change"));
      details.scrollIntoView({ block: "nearest" });
      select.focus();
    },
  };
}
