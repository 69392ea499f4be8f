// The page around the check: its examples, what happens on paper, and the press that jumps to the answer and back.

import { byKey, h } from "./dom.mjs";
import { link } from "./links.mjs";
import { INVENTED } from "./words.mjs";

/** The examples in a caller's words: `start(build, id)` begins with one; without it they lead to their own pages. */
export function drawExamples(root, book, start) {
  const place = byKey(root, "examples-list");
  const row = (one) => {
    const text = [h("q", {}, one.asked), one.invented ? h("em", { class: "db-tag" }, INVENTED) : null];
    return start ? h("button", { type: "button", class: "db-example", onclick: () => start(one.build, one.id) }, text) : h("a", { class: "db-example", href: link("answers", one.id) }, text);
  };
  place.replaceChildren(...book.builds.map((one) => h("li", {}, row(one))));
}

/** On paper nothing can be opened, so everything of the answer is open while it prints. */
export function printWhole(root) {
  let closed = [];
  addEventListener("beforeprint", () => {
    closed = [...byKey(root, "answer").querySelectorAll("details:not([open])")];
    for (const details of closed) details.open = true;
  });
  addEventListener("afterprint", () => {
    for (const details of closed) details.open = false;
  });
}

/** The press beside the verdict on a narrow screen. */
export function wireJump(root) {
  const jump = byKey(root, "jump");
  const answer = byKey(root, "answer");
  let below = true;
  new IntersectionObserver(([entry]) => {
    below = !entry.isIntersecting;
    jump.textContent = below ? "Read it" : "Back";
  }, { rootMargin: "0px 0px -45% 0px" }).observe(answer);
  jump.addEventListener("click", () => (below ? answer : byKey(root, "next-head")).scrollIntoView({ block: "start" }));
}
