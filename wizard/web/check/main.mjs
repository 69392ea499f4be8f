// The combination check: joins the box, the next question, what was told, the answer, the address and the engine.

import { announce, byKey, h, list, redraw } from "./dom.mjs";
import { EMPTY, answerQuestion, entryOf, isEmpty, sayWhole, takeAsRight } from "./build.mjs";
import { FAILED_LINK, FAILED_STILL, FROM_FILE, INVENTED, LONG, NO_FACTS, OPENING, WORKING } from "./words.mjs";
import { answerPlace } from "./answer.mjs";
import { followAddress } from "./address.mjs";
import { link } from "./argument.mjs";
import { makeIndex } from "./search.mjs";
import { openBook } from "./book.mjs";
import { questionPlace } from "./question.mjs";
import { startWorker } from "./worker_client.mjs";
import { toldPlace } from "./told.mjs";
import { wireBox } from "./searchbox.mjs";

const PATIENCE = 2500;       // milliseconds given to an answer that a newer one is waiting for
const LONG_AFTER = 5000;

/** Starts the check in its place of the page; resolves when the facts are there and the first view is drawn. */
export async function startCheck(root) {
  if (location.protocol === "file:") return announce(byKey(root, "boot"), FROM_FILE);
  const engineHome = new URL(root.dataset.engine, document.baseURI);
  const state = { build: EMPTY, opening: false, waiting: [], answer: null, turn: 0, began: 0, busy: false, again: false, failed: false };
  const view = {};

  const engine = startWorker(new URL("worker.mjs", engineHome), (status) => told(root, state, view, status));
  const address = followAddress(openAddress);
  const first = address.start();
  let index = null;
  const box = wireBox(root, () => index, pick);
  byKey(root, "start-over").addEventListener("click", () => {
    view.question?.reset();
    change(() => EMPTY);
    box.focus();
  });
  printWhole(root);
  wireJump(root);
  if (first) openAddress(first);

  const book = await fetchBook(engineHome).catch(() => null);
  if (!book) return notice(root, "facts", h("p", {}, NO_FACTS, " ", FAILED_STILL));
  index = makeIndex(book);
  view.book = book;
  view.question = questionPlace(root, book, (question, value) => change((build) => answerQuestion(build, question, value)), begin);
  view.told = toldPlace(root, book, change);
  view.answer = answerPlace(root, book, {
    ask: (name) => view.question.ask(name),
    right: (rule, slot, yes) => change((build) => takeAsRight(build, rule, slot, yes)),
  });
  drawExamples(root, state, book, (build) => change(() => build));
  draw();
  box.look();
  if (!isEmpty(state.build)) work();
  return undefined;

  function pick(item, typed) {
    if (item.place) view.told.openRelations(item.kind);
    else change((build) => item.change(build, typed));
  }

  function begin(slot) {
    change((build) => (entryOf(build, slot) ? build : sayWhole(build, slot, { state: "not_sure" })));
  }

  /** Takes what the reader says: it shows at once, goes into the address, and is answered. */
  function change(how) {
    if (state.opening) state.waiting.push(how);
    state.build = how(state.build);
    notice(root, "address", null);
    draw();
    if (!state.opening) keep();
  }

  function keep() {
    const { build, turn } = state;
    rest(false);
    engine.toAddress(build).then((text) => turn === state.turn && address.write(text), () => {});
    work();
  }

  async function openAddress(text) {
    state.turn += 1;
    const { turn } = state;
    view.question?.reset();
    state.answer = null;
    rest(false);
    if (!text) {
      state.opening = false;
      state.build = EMPTY;
      notice(root, "address", null);
      draw();
      return work();
    }
    state.opening = true;
    byKey(root, "working").textContent = OPENING;
    try {
      const { build, notUsed } = await engine.fromAddress(text);
      if (turn !== state.turn) return undefined;
      state.build = state.waiting.reduce((held, how) => how(held), build);
      notice(root, "address", notUsed.length ? unusedList(notUsed) : null);
    } catch {
      if (turn !== state.turn) return undefined;
      state.build = state.waiting.reduce((held, how) => how(held), EMPTY);
    }
    const more = state.waiting.length > 0;
    state.opening = false;
    state.waiting = [];
    byKey(root, "working").textContent = "";
    draw();
    return more ? keep() : work();
  }

  /** Asks the engine about the latest build; while it works on one, only the latest of the next is kept. */
  async function work() {
    if (!view.answer || state.failed) return undefined;
    if (state.busy) {
      if (!state.again) hurry(state.began);
      state.again = true;
      return undefined;
    }
    const { build } = state;
    state.busy = true;
    state.again = false;
    rest(false);
    state.began = performance.now();
    const slow = setTimeout(() => view.answer.working(WORKING), 150);
    const long = setTimeout(() => view.answer.working(LONG), LONG_AFTER);
    try {
      state.answer = isEmpty(build) ? null : await engine.answer(build);
      if (!state.again) draw();
    } catch (error) {
      state.answer = null;
      if (!state.again && !state.failed) {
        draw();
        view.answer.wrong(error.message);
      }
    }
    clearTimeout(slow);
    clearTimeout(long);
    view.answer.working("");
    state.busy = false;
    if (state.again) return work();
    return rest(true);
  }

  /** Gives the answer that began then a moment more, since a newer one is waiting for it. */
  function hurry(began) {
    setTimeout(() => state.busy && state.began === began && engine.giveUp(), Math.max(0, began + PATIENCE - performance.now()));
  }

  /** Lets whoever watches the page know whether everything said so far has been answered and is in the address. */
  function rest(yes) {
    root.dataset.resting = yes ? "yes" : "no";
  }

  /** Draws what was told at once; the question and the answer stay those of the latest answer until the next one. */
  function draw() {
    const empty = isEmpty(state.build);
    byKey(root, "examples").hidden = !empty;
    byKey(root, "next-part").hidden = empty;
    if (!view.book) return;
    if (empty) state.answer = null;
    view.told.update(state.build);
    view.question.update(state.build, state.answer);
    if (state.failed) return;
    if (state.answer || empty) view.answer.show(state.build, state.answer);
    else view.answer.waiting(WORKING);
  }
}

async function fetchBook(home) {
  const get = async (name) => {
    const reply = await fetch(new URL(name, home));
    if (!reply.ok) throw new Error(`${name}: ${reply.status}`);
    return reply.json();
  };
  const { book } = await get("manifest.json");
  return openBook(await get(book));
}

/** Shows how the worker stands; when it cannot start, what still works. */
function told(root, state, view, status) {
  const boot = byKey(root, "boot");
  root.dataset.stage = status.stage;
  if (status.stage !== "failed") {
    boot.textContent = status.stage === "ready" ? "" : `${status.text} You can already say what you have.`;
    return;
  }
  state.failed = true;
  boot.textContent = "";
  notice(root, "failed", h("p", {}, h("strong", {}, status.text), " ", FAILED_STILL), location.hash ? h("p", {}, FAILED_LINK) : null);
  byKey(root, "working").textContent = "";
  byKey(root, "verdict-words").textContent = "No answer can be worked out on this page now.";
  if (view.book) drawExamples(root, state, view.book);
}

/** The notices of the page: each kind at most once. */
function notice(root, kind, ...content) {
  const place = byKey(root, "notices");
  const others = [...place.children].filter((one) => one.dataset.notice !== kind);
  const shown = content.some(Boolean) ? [h("div", { class: "db-notice", role: "status", "data-notice": kind }, content)] : [];
  redraw(place, others, shown);
}

function unusedList(notUsed) {
  return [h("p", {}, h("strong", {}, "Some of the link was not used:")), list(notUsed.map((one) => [h("code", {}, one.value ? `${one.name}=${one.value}` : one.name), ` ${one.why}`]), { class: "db-unused" })];
}

/** The examples in a caller's words: they start a build, or lead to their own pages when nothing can be worked out. */
function drawExamples(root, state, book, start) {
  const place = byKey(root, "examples-list");
  const row = (one) => {
    const text = [h("q", {}, one.asked), one.invented ? h("em", { class: "db-tag" }, INVENTED) : null];
    return state.failed ? h("a", { class: "db-example", href: link("answers", one.id) }, text) : h("button", { type: "button", class: "db-example", onclick: () => start(one.build) }, text);
  };
  place.replaceChildren(...book.builds.map((one) => h("li", {}, row(one))));
}

/** On paper nothing can be opened, so everything of the answer is open while it prints. */
function printWhole(root) {
  let closed = [];
  addEventListener("beforeprint", () => {
    closed = [...byKey(root, "answer").querySelectorAll("details:not([open])")];
    for (const details of closed) details.open = true;
  });
  addEventListener("afterprint", () => {
    for (const details of closed) details.open = false;
  });
}

function wireJump(root) {
  const jump = byKey(root, "jump");
  const answer = byKey(root, "answer");
  let below = true;
  new IntersectionObserver(([entry]) => {
    below = !entry.isIntersecting;
    jump.textContent = below ? "Read it" : "Back";
  }, { rootMargin: "0px 0px -45% 0px" }).observe(answer);
  jump.addEventListener("click", () => (below ? answer : byKey(root, "next-head")).scrollIntoView({ block: "start" }));
}

const root = typeof document === "object" ? byKey(document, "check") : undefined;
if (root) startCheck(root);
