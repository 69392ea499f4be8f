// The combination check: joins the box, the next question, what was told, the answer, the address and the engine.

import { announce, byKey, h } from "./dom.mjs";
import { EMPTY, answerQuestion, entryOf, isEmpty, sameBuild, sayWhole, takeAsRight, takePart } from "./build.mjs";
import { FAILED_LINK, FAILED_STILL, FROM_FILE, NEVER, NO_FACTS, OPENING, PREPARED, PREPARED_ONLY, WORKING } from "./words.mjs";
import { answerPlace, saysNothing } from "./answer.mjs";
import { changedPlace } from "./whatif.mjs";
import { drawExamples, printWhole, wireJump } from "./page.mjs";
import { followAddress } from "./address.mjs";
import { keepAnswering } from "./asking.mjs";
import { makeIndex } from "./search.mjs";
import { notice, unusedList } from "./notices.mjs";
import { openBook, together } from "./book.mjs";
import { preparedAnswers } from "./prepared.mjs";
import { questionPlace } from "./question.mjs";
import { startWorker } from "./worker_client.mjs";
import { toldPlace } from "./told.mjs";
import { wireBox } from "./searchbox.mjs";

/** Starts the check in its place of the page; resolves when the facts are there and the first view is drawn. */
export async function startCheck(root) {
  if (location.protocol === "file:") return announce(byKey(root, "boot"), FROM_FILE);
  const engineHome = new URL(root.dataset.engine, document.baseURI);
  // `shown` is the answer on the page, `last` the one that the next is set against: {build, text, answer, prepared}.
  // `turn` counts the addresses opened, `step` everything said as well, so that what comes late is known to be late.
  const state = { build: EMPTY, base: EMPTY, opening: false, waiting: [], shown: null, last: null, turn: 0, step: 0, failed: null };
  const view = { changed: changedPlace(root) };

  const engine = startWorker(new URL("worker.mjs", engineHome), hearOfWorker);
  const prepared = preparedAnswers(new URL(root.dataset.answers, document.baseURI));
  const answering = keepAnswering(engine, { build: () => (isEmpty(state.build) ? null : state.build), got, refused, rest, working: (text) => view.answer.working(text) });
  const facts = fetchBook(engineHome).catch(() => null);
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

  const book = await facts;
  if (!book) return notice(root, "facts", h("p", {}, NO_FACTS, " ", FAILED_STILL));
  index = makeIndex(book);
  view.book = book;
  view.question = questionPlace(root, book, (question, value) => change((build) => answerQuestion(build, question, value)), begin);
  view.told = toldPlace(root, book, change);
  view.answer = answerPlace(root, book, {
    ask: (name) => view.question.ask(name),
    right: (rule, slot, yes) => change((build) => takeAsRight(build, rule, slot, yes)),
    take: (slot, part) => follow((build) => takePart(build, slot, part)),
    go: (build) => follow(() => build),
  });
  drawExamples(root, book, state.failed ? null : startExample);
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

  function startExample(build, id) {
    change(() => build);
    offer(Promise.resolve(id));
  }

  /** Goes on with something that the answer offers, and shows what came of it from the top. */
  function follow(how) {
    change(how);
    byKey(root, "verdict").focus({ preventScroll: true });
    byKey(root, "changed").scrollIntoView({ block: "start" });
  }

  /** Takes what the reader says: it shows at once, goes into the address, and is answered. */
  function change(how) {
    state.step += 1;
    if (state.opening) state.waiting.push(how);
    state.build = how(state.build);
    if (state.shown?.prepared) state.shown = null;
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
    state.step += 1;
    const { turn } = state;
    view.question?.reset();
    state.shown = null;
    state.base = EMPTY;
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
    offer(prepared.at(text));
    try {
      const { build, notUsed } = await engine.fromAddress(text);
      if (turn !== state.turn) return undefined;
      state.build = state.waiting.reduce((held, how) => how(held), build);
      notice(root, "address", notUsed.length ? unusedList(notUsed) : null);
    } catch {
      if (turn !== state.turn) return undefined;
      state.build = state.waiting.reduce((held, how) => how(held), state.base);
    }
    const more = state.waiting.length > 0;
    state.opening = false;
    state.waiting = [];
    byKey(root, "working").textContent = "";
    draw();
    return more ? keep() : work();
  }

  /** Shows the answer that was worked out with the site, unless the engine or the reader is ahead of it. */
  async function offer(finding) {
    const { step } = state;
    if (root.dataset.stage === "ready") return;
    const id = await finding;
    const [text, held] = id === null ? [null, null] : await Promise.all([prepared.read(id), facts]);
    if (text === null || held === null || step !== state.step || state.shown) return;
    const build = held.data.builds[id]?.build;
    if (!build) return;
    state.base = build;
    state.build = build;
    state.shown = { build, text, answer: JSON.parse(text), prepared: true };
    state.last = state.shown;
    byKey(root, "working").textContent = "";
    draw();
    if (state.failed) hearOfWorker(state.failed);
  }

  function work() {
    return view.answer && !state.failed ? answering() : undefined;
  }

  /** Takes an answer of the engine; what it changes is set against the last one that said something. */
  function got(build, made) {
    const before = state.last;
    const again = state.shown?.prepared === true || (before !== null && sameBuild(before.build, build));
    state.shown = made && { build, ...made, prepared: false };
    state.last = made && !saysNothing(made.answer) ? state.shown : null;
    draw();
    if (again && state.last) return undefined;
    if (!before || !state.last) return view.changed.clear();
    return engine.compare(before.text, made.text).then(
      (difference) => state.last?.text === made.text && view.changed.show(difference),
      () => view.changed.clear(),
    );
  }

  function refused(sentence) {
    if (state.failed) return;
    state.shown = null;
    view.changed.clear();
    draw();
    view.answer.wrong(sentence);
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
    if (empty) state.shown = null;
    const answer = state.shown?.answer ?? null;
    byKey(root, "prepared").textContent = !state.shown?.prepared ? "" : state.failed ? PREPARED_ONLY : PREPARED;
    view.told.update(state.build);
    view.question.update(state.build, answer);
    if (answer || (empty && !state.failed)) view.answer.show(state.build, answer);
    else if (state.failed) view.answer.never();
    else view.answer.waiting(WORKING);
  }

  /** Shows how the worker stands; when it cannot start, what still works. */
  function hearOfWorker(status) {
    const boot = byKey(root, "boot");
    root.dataset.stage = status.stage;
    if (status.stage !== "failed") {
      boot.textContent = status.stage === "ready" ? "" : `${status.text} You can already say what you have.`;
      return;
    }
    state.failed = status;
    boot.textContent = "";
    const unread = location.hash && !state.shown?.prepared;
    notice(root, "failed", h("p", {}, h("strong", {}, status.text), " ", FAILED_STILL), unread ? h("p", {}, FAILED_LINK) : null);
    byKey(root, "working").textContent = "";
    draw();
    if (view.book) drawExamples(root, view.book, null);
    else byKey(root, "verdict-words").textContent = NEVER;
  }
}

async function fetchBook(home) {
  const get = async (name) => {
    const reply = await fetch(new URL(name, home));
    if (!reply.ok) throw new Error(`${name}: ${reply.status}`);
    return reply.json();
  };
  const parts = await get("manifest.json");
  const [needed, beside] = await Promise.all([get(parts.book), get(parts.beside)]);
  return openBook(together(needed, beside));
}

const root = typeof document === "object" ? byKey(document, "check") : undefined;
if (root) startCheck(root);
