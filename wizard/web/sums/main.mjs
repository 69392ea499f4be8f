// The page of a sum: joins the form, the address, the worker and the result.

import { byKey, h, redraw } from "../check/dom.mjs";
import { copyButton } from "../check/address.mjs";
import { workerClient } from "../check/worker_client.mjs";
import { readAddress, writeAddress } from "./address.mjs";
import { fieldsOf } from "./fields.mjs";
import { resultParts } from "./result.mjs";
import { fillLinks } from "./uses.mjs";
import { FAILED_STILL, FETCHING, FROM_CHECK, FROM_FILE, NOTHING_YET, missingText } from "./words.mjs";

const PAUSE = 300;       // milliseconds without a key before the numbers are worked out

/** Starts the form of a sum in its place of the page. */
export function startSum(root) {
  const status = byKey(root, "status");
  if (location.protocol === "file:") {
    status.textContent = FROM_FILE;
    return;
  }
  const fields = fieldsOf(root);
  const titles = Object.fromEntries(fields.map((one) => [one.name, one.title]));
  const links = document.querySelectorAll("[data-fill]");
  const place = byKey(root, "result");
  const copy = copyButton();
  const state = { first: "si", check: "", found: null, curve: null, turn: 0, shown: null, timer: 0, asked: false };
  const engine = workerClient(new URL("worker.mjs", new URL(root.dataset.engine, document.baseURI)), told, "numbers");

  root.addEventListener("focusin", () => state.asked || begin());
  root.addEventListener("input", (event) => event.target.name !== "shown-first" && later(event.target));
  root.addEventListener("change", (event) => (event.target.name === "shown-first" ? order(event.target.value) : work("touched")));
  root.addEventListener("submit", (event) => {
    event.preventDefault();
    work("all");
  });
  byKey(root, "start-over").addEventListener("click", () => {
    put({});
    work("none");
    fields[0].first.focus();
  });
  byKey(document, "example")?.addEventListener("click", ({ target }) => {
    put(JSON.parse(target.dataset.inputs));
    work("all");
    root.scrollIntoView({ block: "start" });
  });
  addEventListener("hashchange", open);
  open();

  function begin() {
    state.asked = true;
    told({ stage: "starting" });
    engine.sumsSoon();
  }

  function told({ stage, text }) {
    root.dataset.stage = stage;
    status.textContent = stage === "failed" ? `${text} ${FAILED_STILL}` : stage === "ready" ? "" : FETCHING;
  }

  /** Takes what the address says; what stands there and cannot be used is named. */
  function open() {
    const text = location.hash.slice(1);
    if (text === state.shown || (text && document.getElementById(text))) return;
    state.shown = text;
    const { inputs, first, check, notUsed } = readAddress(text, Object.keys(titles));
    Object.assign(state, { first, check });
    put(inputs);
    notices(notUsed);
    if (Object.keys(inputs).length) work("touched");
    else draw();
  }

  function notices(notUsed) {
    const rows = notUsed.map((one) => h("li", {}, h("code", {}, one.value ? `${one.name}=${one.value}` : one.name), ` ${one.why}`));
    redraw(
      byKey(root, "notices"),
      rows.length ? h("div", { class: "db-notice", role: "status" }, h("p", {}, h("strong", {}, "Some of the link was not used:")), h("ul", {}, rows)) : null,
      state.check ? h("p", { class: "db-notice" }, FROM_CHECK) : null,
    );
  }

  function put(inputs) {
    for (const field of fields) {
      field.put(inputs[field.name] ?? "");
      field.refuse(null);
    }
    for (const radio of root.querySelectorAll("[name=shown-first]")) radio.checked = radio.value === state.first;
  }

  function said() {
    return Object.fromEntries(fields.map((field) => [field.name, field.get()]));
  }

  function later(target) {
    fields.find((field) => field.place.contains(target))?.refuse(null);
    clearTimeout(state.timer);
    state.timer = setTimeout(() => work("none"), PAUSE);
  }

  function order(first) {
    state.first = first;
    keep();
    draw();
  }

  function keep() {
    state.shown = writeAddress(said(), state);
    history.replaceState(null, "", state.shown ? `#${state.shown}` : location.pathname + location.search);
  }

  /** Works out what is filled in. `refusals`: beside which fields to say what is wrong: `none`, `touched` or `all`. */
  async function work(refusals) {
    clearTimeout(state.timer);
    state.turn += 1;
    const { turn } = state;
    const inputs = said();
    if (!state.asked && Object.values(inputs).some(Boolean)) begin();
    root.dataset.resting = "no";
    keep();
    try {
      const empty = Object.values(inputs).every((text) => text === "");
      const { found, curve, text } = empty && refusals !== "all" ? { found: null, curve: null, text: "" } : await engine.sum(root.dataset.sum, inputs);
      if (turn !== state.turn) return;
      Object.assign(state, { found, curve });
      root.dataset.text = text;
      refuse(found?.verdict ? found.inputs : [], refusals);
      draw();
      await fillLinks(links, new URL(root.dataset.check, document.baseURI).href, engine, state.check, found?.verdict ? null : found);
    } catch (error) {
      if (turn !== state.turn) return;
      Object.assign(state, { found: null, curve: null });
      redraw(place, h("p", { role: "alert" }, error.message));
    }
    if (turn === state.turn) root.dataset.resting = "yes";
  }

  function refuse(wrong, refusals) {
    for (const field of fields) {
      const one = wrong.find((each) => each.name === field.name);
      if (!one || refusals === "all" || (refusals === "touched" && one.said !== "")) field.refuse(one ?? null);
      else if (one.said === "") field.refuse(null);
    }
  }

  function draw() {
    const { found, curve, first } = state;
    if (!found) redraw(place, h("p", { class: "db-hint" }, NOTHING_YET));
    else if (!found.verdict) redraw(place, h("h3", {}, "Result"), resultParts(found, curve, { first, titles, room: place.clientWidth }), copy);
    else redraw(place, h("p", { class: "db-hint" }, refusalSentence(found)));
  }

  function refusalSentence(found) {
    const missing = found.inputs.filter((one) => one.said === "").map((one) => titles[one.name]);
    const wrong = found.inputs.filter((one) => one.said !== "").map((one) => titles[one.name] ?? one.name);
    if (!found.inputs.length) return found.text;
    return [wrong.length ? `Cannot be used as it is: ${wrong.join(", ")}.` : "", missing.length ? missingText(missing) : ""].filter(Boolean).join(" ");
  }
}

const root = typeof document === "object" ? byKey(document, "sum") : undefined;
if (root) startSum(root);
