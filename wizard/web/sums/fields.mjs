// The fields of the form: one line of text each, or the rows of a table.

import { button, h } from "../check/dom.mjs";
import { refusalText } from "./words.mjs";

const ROWS = 4;

/** The fields of a form in order, each with `name`, `title`, `get()`, `put(text)` and `refuse(wrong or null)`. */
export function fieldsOf(form) {
  return [...form.querySelectorAll("[data-field]")].map((place) => (place.dataset.table ? tableField(place) : textField(place)));
}

function textField(place) {
  const input = place.querySelector("input");
  return {
    ...shared(place),
    get: () => input.value.trim(),
    put: (text) => {
      input.value = text;
    },
    first: input,
  };
}

/** Rows of frequency and airflow; their text is that of the command line, `1500:2 4000:24`. A whole table may be pasted. */
function tableField(place) {
  const { field: name, title } = place.dataset;
  const body = h("tbody");
  const row = (hz = "", flow = "") => {
    const cell = (label, value) => h("td", {}, h("input", { type: "text", inputmode: "decimal", autocomplete: "off", "aria-label": label, value, onpaste: paste }));
    body.append(h("tr", {}, cell("Frequency, Hz", hz), cell("Airflow, g/s", flow)));
  };
  const rows = () => [...body.rows].map((one) => [...one.querySelectorAll("input")].map((input) => input.value.trim()));
  const put = (text) => {
    body.replaceChildren();
    for (const point of text.split(/[\s,;]+/).filter(Boolean)) row(...point.split(":"));
    while (body.rows.length < ROWS) row();
  };
  const paste = (event) => {
    const pairs = event.clipboardData.getData("text").trim().split(/[\n\r]+|\s+(?=\S+:)/).map((line) => line.trim().split(/[:\t;, ]+/));
    if (pairs.length < 2 || pairs.some((pair) => pair.length !== 2)) return;
    event.preventDefault();
    put(pairs.map((pair) => pair.join(":")).join(" "));
    body.dispatchEvent(new Event("change", { bubbles: true }));
  };
  const table = h("table", { class: "db-sum__table", "aria-label": title }, h("thead", {}, h("tr", {}, h("th", { scope: "col" }, "Hz"), h("th", { scope: "col" }, "g/s"))), body);
  place.querySelector("[data-key=table]").append(table, button("Another point", () => row(), { class: "db-press db-press--quiet" }));
  put("");
  body.querySelector("input").id = `in-${name}`;
  return {
    ...shared(place),
    get: () => rows().filter(([hz, flow]) => hz || flow).map((pair) => pair.join(":")).join(" "),
    put,
    get first() {
      return body.querySelector("input");
    },
  };
}

function shared(place) {
  const said = place.querySelector(".db-wrong");
  const isTable = Boolean(place.dataset.table);
  return {
    name: place.dataset.field,
    title: place.dataset.title,
    place,
    refuse: (wrong) => {
      said.textContent = wrong ? refusalText(wrong, isTable) : "";
      for (const input of place.querySelectorAll("input")) input.setAttribute("aria-invalid", String(Boolean(wrong)));
    },
  };
}
