// Leads a number into the check: a new one, or the one that the reader came from.

import { tell } from "../check/build.mjs";

/**
 * Gives each link marked with `data-fill` its address once there is a result, and hides it again without one.
 * `fill` says by input, or by `result`, which attribute of which part the number is told of, and what the check takes for it.
 */
export async function fillLinks(links, checkHome, engine, from, result) {
  for (const link of links) link.hidden = true;
  if (!result) return;
  const numbers = { result: Number(result.value.toPrecision(6)), ...Object.fromEntries(result.inputs.map((one) => [one.name, one.value])) };
  const start = from ? (await engine.fromAddress(from)).build : { slots: {} };
  for (const link of links) {
    const build = filled(start, JSON.parse(link.dataset.fill), numbers);
    if (build) {
      link.href = `${checkHome}#${await engine.toAddress(build)}`;
      link.hidden = false;
    }
  }
}

/** The build with the numbers told; null where one of them is not a number the check takes. */
export function filled(build, ways, numbers) {
  let next = build;
  for (const [name, { slot, attribute, low, high, whole }] of Object.entries(ways)) {
    const value = whole ? Math.round(numbers[name]) : numbers[name];
    if (!Number.isFinite(value) || (low !== null && value < low) || (high !== null && value > high)) return null;
    next = tell(next, slot, attribute, value);
  }
  return next;
}
