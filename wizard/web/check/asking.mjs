// Keeps the engine at work on the latest build: one answer at a time, and of those that wait only the newest.

import { LONG, WORKING } from "./words.mjs";

const PATIENCE = 2500;       // milliseconds given to an answer that a newer one is waiting for
const SLOW_AFTER = 150;
const LONG_AFTER = 1000;

/**
 * `page` holds what the loop needs: `build()` the latest build, or null when there is nothing to ask; `got(build, made)`
 * takes an answer and may return a promise of what is still to come for it; `refused(sentence)`; `working(text)`;
 * `rest(yes)` hears whether everything said so far has been answered.
 */
export function keepAnswering(engine, page) {
  let busy = false;
  let again = false;
  let began = 0;

  async function work() {
    if (busy) {
      if (!again) hurry(began);
      again = true;
      return undefined;
    }
    const build = page.build();
    busy = true;
    again = false;
    began = performance.now();
    page.rest(false);
    const slow = setTimeout(() => page.working(WORKING), SLOW_AFTER);
    const long = setTimeout(() => page.working(LONG), LONG_AFTER);
    let more;
    try {
      const made = build === null ? null : await engine.answer(build);
      if (!again) more = page.got(build, made);
    } catch (error) {
      if (!again) page.refused(error.message);
    }
    clearTimeout(slow);
    clearTimeout(long);
    page.working("");
    busy = false;
    if (again) return work();
    await more;
    return busy ? undefined : page.rest(true);
  }

  /** Gives the answer that began then a moment more, since a newer one is waiting for it. */
  function hurry(then) {
    setTimeout(() => busy && began === then && engine.giveUp(), Math.max(0, then + PATIENCE - performance.now()));
  }

  return work;
}
