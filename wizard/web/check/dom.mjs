// Makes and redraws parts of the page. Text goes in as text, so nothing that was told or linked is ever run as mark-up.

const SVG = "http://www.w3.org/2000/svg";

/** An element: `h("button", { type: "button", onclick: press }, "Copy")`. Empty children are left out. */
export function h(tag, properties = {}, ...children) {
  const element = document.createElement(tag);
  for (const [name, value] of Object.entries(properties)) {
    if (value === null || value === undefined || value === false) continue;
    if (name.startsWith("on")) element.addEventListener(name.slice(2), value);
    else if (name === "value") element.value = value;
    else element.setAttribute(name, value === true ? "" : value);
  }
  element.append(...filled(children));
  return element;
}

function filled(children) {
  return children.flat(Infinity).filter((child) => child !== null && child !== undefined && child !== false && child !== "");
}

/** One of the drawn marks of the site, such as that of a verdict; it never stands without words beside it. */
export function mark(name) {
  const svg = document.createElementNS(SVG, "svg");
  const use = document.createElementNS(SVG, "use");
  svg.setAttribute("class", "db-mark");
  svg.setAttribute("viewBox", "0 0 24 24");
  svg.setAttribute("aria-hidden", "true");
  use.setAttribute("href", `#mark-${name}`);
  svg.append(use);
  return svg;
}

/** A part of the page that opens; `key` keeps it open when it is drawn again. */
export function fold(key, summary, ...children) {
  return h("details", { "data-key": key, class: "db-fold" }, h("summary", { "data-key": `${key} summary` }, summary), children);
}

/** A fold whose inside is only made once somebody opens it. */
export function lazyFold(key, summary, make) {
  const details = fold(key, summary);
  const fill = () => {
    if (details.open && details.childElementCount === 1) details.append(...filled([make()]));
  };
  details.addEventListener("toggle", fill);
  details.fillNow = fill;
  return details;
}

export function list(items, properties = {}) {
  return h("ul", properties, items.map((item) => h("li", {}, item)));
}

export function button(label, onclick, properties = {}) {
  return h("button", { type: "button", class: "db-press", onclick, ...properties }, label);
}

/** Puts new children into a place; what was open stays open, and who had the focus keeps it, by `data-key`. */
export function redraw(place, ...children) {
  const open = new Set([...place.querySelectorAll("details[open][data-key]")].map((details) => details.dataset.key));
  const held = place.contains(document.activeElement) ? document.activeElement.dataset.key : undefined;
  place.replaceChildren(...filled(children));
  reopen(place, open);
  if (held !== undefined) byKey(place, held)?.focus({ preventScroll: true });
}

function reopen(place, open) {
  for (const details of place.querySelectorAll("details[data-key]")) {
    if (open.has(details.dataset.key) && !details.open) {
      details.open = true;
      if (details.fillNow) {
        details.fillNow();
        reopen(details, open);
      }
    }
  }
}

export function byKey(place, key) {
  return [...place.querySelectorAll("[data-key]")].find((element) => element.dataset.key === key);
}

/** Says something to whoever listens instead of looking. */
export function announce(place, text) {
  place.textContent = "";
  place.textContent = text;
}
