// Keeps the address after `#` and what was said in step, and copies the link. It never reads the address itself.

import { h } from "./dom.mjs";

/**
 * `open(text)` is called with what follows the `#` when the page opens and whenever the reader goes back, forward or
 * edits it. `write(text)` puts a new one, as a step that Back undoes.
 */
export function followAddress(open) {
  let shown = null;

  const read = () => {
    const text = location.hash.slice(1);
    return text && document.getElementById(text) ? "" : text;
  };
  const look = () => {
    const text = read();
    if (text === shown) return;
    shown = text;
    open(text);
  };
  addEventListener("popstate", look);
  addEventListener("hashchange", look);

  return {
    start: () => {
      shown = read();
      return shown;
    },
    write: (text) => {
      if (text === shown) return;
      shown = text;
      history.pushState(null, "", text ? `#${text}` : location.pathname + location.search);
    },
  };
}

/** A button that copies the link; where the browser does not allow that, the link appears, selected, to copy by hand. */
export function copyButton() {
  const said = h("span", { class: "db-copied", role: "status" });
  const field = h("input", { class: "db-link", type: "text", readonly: true, hidden: true, "aria-label": "The link to copy" });
  const copy = async () => {
    const link = location.href;
    try {
      await navigator.clipboard.writeText(link);
      field.hidden = true;
      said.textContent = "Copied. Whoever opens it sees this answer.";
    } catch {
      field.value = link;
      field.hidden = false;
      field.focus();
      field.select();
      said.textContent = "Copy the selected link.";
    }
  };
  const press = h("button", { type: "button", class: "db-press db-press--main", onclick: copy }, "Copy the link to this answer");
  return h("div", { class: "db-copy" }, press, said, field);
}
