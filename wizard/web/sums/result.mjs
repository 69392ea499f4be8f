// Shows a result as the engine gave it: nothing is worked out or rounded here.

import { h } from "../check/dom.mjs";
import { plotFigure } from "./plot.mjs";
import { SOURCE_WORDS, STAND } from "./words.mjs";

/** The parts of a result; `first` says which unit system comes first, `titles` gives the titles of the inputs. */
export function resultParts(result, curve, { first, titles, room }) {
  return [
    h("p", { class: "db-sum__value" }, both(result.shown, result.shown_other, first)),
    offLine(result, first),
    result.tells ? h("p", { class: "db-sum-tells" }, result.tells) : null,
    bandLine(result.band),
    h("h3", {}, "From"),
    h("ul", { class: "db-sum-inputs" }, result.inputs.map((one) => h("li", {}, `${one.title}: `, both(one.shown, one.shown_other, first)))),
    effectTable(result.effects, first, titles),
    curve ? plotFigure(curve, room) : null,
  ];
}

function both(si, other, first) {
  const [before, after] = first === "other" && other ? [other, si] : [si, other];
  return [h("strong", {}, before), after ? h("span", { class: "db-other" }, ` (${after})`) : null];
}

function offLine(result, first) {
  if (result.shown_low === result.shown_high) return null;
  const span = (low, high) => (low ? `${low} to ${high}` : "");
  return h("p", {}, "With these inputs exact it lies within ", both(span(result.shown_low, result.shown_high), span(result.other_low, result.other_high), first), ".");
}

function bandLine(band) {
  if (!band) return null;
  const [kind, text] = band.source;
  return h("p", { class: "db-sum-band", "data-stand": band.where }, h("strong", {}, STAND[band.where]), ` ${band.says} `, h("span", { class: "db-cited" }, `${SOURCE_WORDS[kind]}: ${text}`));
}

function effectTable(effects, first, titles) {
  if (!effects.length) return null;
  const cell = (si, other) => h("td", {}, si ? both(si, other, first) : "not plausible");
  const head = ["Input", "By", "Lower, it gives", "Higher, it gives"].map((text) => h("th", { scope: "col" }, text));
  const rows = effects.map((one) => h("tr", {}, h("th", { scope: "row" }, titles[one.name] ?? one.name), h("td", {}, one.of), cell(one.shown_lower, one.other_lower), cell(one.shown_higher, one.other_higher)));
  return h("div", { class: "db-scroll", tabindex: "0", role: "region", "aria-label": "If one input is off" }, h("table", { class: "db-effects" }, h("caption", {}, "If one input alone is off"), h("thead", {}, h("tr", {}, head)), h("tbody", {}, rows)));
}
