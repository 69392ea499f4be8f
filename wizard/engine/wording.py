"""Every sentence that the engine says, in one place; plain text only, no mark-up."""
from __future__ import annotations

from typing import Sequence

from .build import Build
from .clauses import (a_part, attribute, digits_of, join, lower_first, mask_text, name_text, part_text, parts_text,
                      quoted_text, relation_text, relations_texts, sentence, several, slot_title, span_text, value_text,
                      when_text)
from .model import Book, Instance

NOTHING_ADDED = "nothing may be added"
ONLY_TOGETHER = "Each rule could be met alone, but not all of them together."
ALLOW = "Allow what is missing to be added"
NAMED_SUBJECTS = 4      # subjects that a sentence names; an answer lists all
VERDICT_WORDS = ("Works", "Works with additions", "Cannot tell yet", "Will not work")


def relation_question(book: Book, kind: str, of: Sequence[str]) -> str:
    """What a relation says, as a question."""
    if kind == "same":
        return f"Are these two alike: {join([quoted_text(book, n) for n in of])}?"
    if kind == "came_together":
        return f"Did {parts_text(book, of)} come from one donor, unaltered?"
    return f"Were {parts_text(book, of)} made for each other?"


def fitted_question(book: Book, slot: str) -> str:
    """Whether a part is there, as a question: the slot's own words, or else made from its title."""
    return book.data["slots"][slot].get("ask") or f"Is there {a_part(book, slot)}?"


def which_question(book: Book, slot: str, described: bool = False) -> str:
    """Which listed part it is, as a question; of a part that was described, whether it is one of those that fit."""
    title = lower_first(slot_title(book, slot))
    if described:
        return f"{'Are' if several(title) else 'Is'} the {title} one of these?"
    return f"Which {title} {'are they' if several(title) else 'is it'}?"


def question_text(book: Book, name: str) -> str:
    """The question for `slot.attr`, `slot.fitted`, a slot or a relation."""
    kind, _, rest = name.partition(" ")
    if rest:
        return relation_question(book, kind, rest.split(" " if kind == "same" else " + "))
    if name.endswith(".fitted"):
        return fitted_question(book, name.split(".")[0])
    return (attribute(book, name) or {}).get("ask") or which_question(book, name.split(".")[0])


def fill(book: Book, inst: Instance, text: str | None) -> str | None:
    """A record's sentence with {binding} replaced by the title of the slot it is bound to."""
    if not text or "{" not in text:
        return text
    for name, slot in inst.bind.items():
        text = text.replace("{" + name + "}", lower_first(slot_title(book, slot)))
    return text


def rule_title(book: Book, inst: Instance, section: str = "rules") -> str:
    """A rule's title, with the slot when it is asked of several."""
    title = fill(book, inst, book.data[section][inst.rule]["title"]) or inst.rule
    return f"{title} ({lower_first(slot_title(book, inst.slot))})" if inst.slot else title


def told_text(book: Book, build: Build, slot: str, attr: str) -> str:
    """A told value as a statement."""
    name = f"{slot}.{attr}"
    entry = build.slots[slot]
    told = entry.told[attr]
    if told.span is not None:
        unit = (attribute(book, name) or {}).get("unit") or ""
        return f"{name_text(book, name)}: {span_text(*told.span, unit, digits_of(*told.span))}"
    if told.values is not None:
        return f"{name_text(book, name)}: {join([value_text(book, name, v) for v in told.values], 'or')}"
    return f"{name_text(book, name)}: not known"


def slot_text(book: Book, build: Build, slot: str) -> str:
    """What was said of a slot as a whole."""
    entry, title = build.slots[slot], slot_title(book, slot)
    if entry.state == "family":
        return f"{title}: {part_text(book, entry.families[0])}"
    if entry.state == "one_of":
        return f"{title}: one of {join([part_text(book, f) for f in entry.families], 'or')}"
    if entry.state == "in_hand":
        return f"{title}: {len(entry.options)} in hand to choose from"
    return f"{title}: " + {
        "none": "none fitted", "open": "not bought yet", "made_to_order": "to be made to order",
        "not_sure": "not known which", "maybe": "not known whether there is one"}.get(entry.state, "there is one")


def headline(verdict: int | None, refused: bool, assumed: Sequence[str], find_first: bool, question: str | None,
             nothing_asked: bool) -> str:
    """The first sentence; it answers the question."""
    if verdict is None:
        return "These statements cannot all be true, so there is no verdict."
    if refused:
        return "Will not work: this plan is refused."
    if nothing_asked:
        return "Cannot tell yet: no rule looks at what was told."
    text = VERDICT_WORDS[verdict]
    if find_first:
        text += "; find out before you buy"
    if assumed:
        text += f", if this is so: {'; '.join(list(assumed)[:2])}" + (f"; and {len(assumed) - 2} more" if len(assumed) > 2 else "")
    return text + "." + (f" First find out: {question}" if verdict == 2 and question else "")


def scope_text(book: Book, subjects: Sequence[str], whole_swap: bool, passed: int, checks: int) -> str:
    """What the verdict speaks of, and what it does not."""
    titles = [lower_first(book.data["subjects"][s]["title"]) for s in subjects]
    if len(titles) > NAMED_SUBJECTS + 1:
        titles = [*titles[:NAMED_SUBJECTS], f"and {len(titles) - NAMED_SUBJECTS} more subjects"]
    if whole_swap:
        text = f"This speaks of the whole swap, {len(subjects)} subjects." if subjects else "This speaks of nothing yet."
    else:
        text = f"This speaks only of: {'; '.join(titles) or 'nothing yet'}."
    if passed:
        them, their = ("them", "their") if passed > 1 else ("it", "its")
        text += f" {passed} more rule{'s were' if passed > 1 else ' was'} not looked at, because nobody asked about {them} or told of all {their} parts."
    if checks:
        text += f" {checks} check{'s' if checks > 1 else ''} of workmanship remain{'' if checks > 1 else 's'} to be made."
    return text


def certain_addition(count: int, one_of: int, only_if: int) -> str:
    """How much there is to add, in a sentence or two; empty when nothing."""
    parts = []
    if count:
        parts.append("one thing is to be added" if count == 1 else f"{count} things are to be added")
    if one_of:
        parts.append("for one more there is a choice of ways" if one_of == 1 else f"for {one_of} more there is a choice of ways")
    more = "more thing" if parts else "thing"
    perhaps = f"Depending on what is still open, {f'one {more}' if only_if == 1 else f'up to {only_if} {more}s'} may be needed."
    return " ".join([*([sentence(join(parts))] if parts else []), *([perhaps] if only_if else [])])


def check_text(book: Book, untold: Sequence[str]) -> str:
    """A check of workmanship that nobody spoke of."""
    return " ".join(question_text(book, v) for v in untold)


def check_of_slot(book: Book, slot: str, text: str) -> str:
    """A check that is asked of several parts in the same words, with the one that is meant."""
    return f"{slot_title(book, slot)}: {text}"


def clash_text(because: Sequence[str]) -> str:
    """No single rule fails by itself: what is told of several rules together leaves nothing."""
    return f"No one rule stands alone in the way; together they leave nothing that works: {join(list(because))}."


def because_text(told: Sequence[str], rules: Sequence[str]) -> str:
    """The clash as one sentence: because ... and ..., the rules ... cannot be met."""
    if not told:
        return f"Whatever the parts turn out to be, {join([lower_first(r) for r in rules])} cannot be met."
    return f"Because {join([lower_first(t) for t in told])}, this cannot be met: {join([lower_first(r) for r in rules])}."


def changes_text(works: bool) -> str:
    """What the proposed changes would do."""
    return "What would make it work" if works else "What would clear the way"


def change_text(book: Book, build: Build, slot: str, family: str | None) -> str:
    """A change of part as an instruction."""
    title = lower_first(slot_title(book, slot))
    if build.slots[slot].state == "none":
        return f"Fit a {title}: {part_text(book, family or 'free')}"
    return f"Change the {title} to {part_text(book, family or 'free')}"


def ways_text(book: Book, ways: Sequence[tuple[str, str, str]]) -> str:
    """Changes of how something is done."""
    said = [f"{lower_first(name_text(book, f'{s}.{a}'))} becomes {value_text(book, f'{s}.{a}', v)}" for s, a, v in ways]
    return f"Do it otherwise: {join(said)}"


def steps_text(steps: Sequence[str]) -> str:
    """Several instructions as one."""
    return join([text if i == 0 else lower_first(text) for i, text in enumerate(steps)])


def keep_text(book: Book, slot: str) -> str:
    """A part that is to stay."""
    return f"the {lower_first(slot_title(book, slot))} is to be kept"


def either_text(good: Sequence[str], bad: Sequence[str], asked: str | None) -> str:
    """The deciding rule can still come out more than one way: what each way would mean."""
    lead = f"It turns on {lower_first(asked)}. " if asked else ""
    if not good:
        return lead + bad[0]
    return f"{lead}It may come out well: {lower_first(good[0])} Or not: {lower_first(bad[0])}"


def depending_text(because: str) -> str:
    """The deciding rule may still come out better: what it says if it does not."""
    return f"Depending on what is still open: {lower_first(because)}"
