"""Every sentence that the engine says, in one place; plain text only, no mark-up."""
from __future__ import annotations

from math import inf, isfinite
from typing import Any, Sequence

from .build import Build
from .model import Book, Instance, OTHER
from .numbers import band_text
from .names import NA
from .space import Space

NOTHING_ADDED = "nothing may be added"
ONLY_TOGETHER = "Each rule could be met alone, but not all of them together."
ALLOW = "Allow what is missing to be added"
NAMED_SUBJECTS = 4      # subjects that a sentence names; an answer lists all
VERDICT_WORDS = ("Works", "Works with additions", "Cannot tell yet", "Will not work")


def slot_title(book: Book, slot: str) -> str:
    """The slot as a heading."""
    return book.data["slots"][slot]["title"]


def attribute(book: Book, name: str) -> dict[str, Any] | None:
    """The record of `slot.attr`, or None for `slot.fitted` and what is no attribute."""
    slot, _, attr = name.partition(".")
    kind = book.data["slots"].get(slot, {}).get("kind")
    return next((a for a in book.data["kinds"][kind]["attributes"] if a["id"] == attr), None) if kind else None


def name_text(book: Book, name: str) -> str:
    """`throttle_body.bore` -> `Throttle body, bore`."""
    slot, _, attr = name.partition(".")
    record = attribute(book, name)
    if record is not None:
        return f"{slot_title(book, slot)}, {lower_first(record['title'])}"
    if attr == "fitted":
        return f"{slot_title(book, slot)}, whether there is one"
    return slot_title(book, slot) if slot in book.data["slots"] else name


def lower_first(text: str) -> str:
    """The text with a small first letter, unless its first word is an abbreviation."""
    return text if len(text) > 1 and text[1].isupper() else text[:1].lower() + text[1:]


def number_text(value: float, digits: int = 4) -> str:
    """A number for reading: `digits` significant digits, thousands spaced, no exponent."""
    if value == 0 or not isfinite(value):
        return "0" if value == 0 else ("any" if value > 0 else "any")
    from math import floor, log10
    places = digits - 1 - floor(log10(abs(value)))
    rounded = round(value, places)
    text = f"{rounded:,.{max(places, 0)}f}".replace(",", "\u202f")
    return text.rstrip("0").rstrip(".") if "." in text else text


def span_text(low: float, high: float, unit: str, digits: int = 4) -> str:
    """An interval with its unit: `4.5 A`, `3 to 5 A`, `above 12 V`, `below 3 V`."""
    if low == -inf and high == inf:
        return "any value"
    if low == -inf:
        return f"below {number_text(high, digits)} {unit}".rstrip()
    if high == inf:
        return f"above {number_text(low, digits)} {unit}".rstrip()
    a, b = number_text(low, digits), number_text(high, digits)
    return f"{a} {unit}".rstrip() if a == b else f"{a} to {b} {unit}".rstrip()


def value_text(book: Book, name: str, value: str) -> str:
    """The plain label of a value of `slot.attr`."""
    if value == NA:
        return "does not apply"
    if value == OTHER:
        return "another one, not listed here"
    if name.endswith(".fitted"):
        return "there is one" if value == "yes" else "there is none"
    record = attribute(book, name)
    if record is not None:
        return next((label for v, label in record.get("values") or () if v == value), value)
    return value


def relation_text(book: Book, kind: str, of: Sequence[str], value: str = "yes") -> str:
    """What a relation says, as a clause."""
    if kind == "same":
        names = " and ".join(quoted_text(book, n) for n in of)
        return f"{names} are {'the same' if value == 'yes' else 'different'}"
    names = join([f"the {lower_first(slot_title(book, s))}" for s in of])
    no = "" if value == "yes" else "not "
    if kind == "came_together":
        return f"{names} {no}came together from one donor, unaltered" if no == "" else \
            f"{names} did not come together from one donor, unaltered"
    if kind == "made_for":
        return f"{names} are {no}made for each other"
    return f"{names} are {no}listed together as a matched set"


def relation_question(book: Book, kind: str, of: Sequence[str]) -> str:
    """What a relation says, as a question."""
    if kind == "same":
        return f"Are these two alike: {join([quoted_text(book, n) for n in of])}?"
    names = join([f"the {lower_first(slot_title(book, s))}" for s in of])
    if kind == "came_together":
        return f"Did {names} come out of one donor together, with nothing altered?"
    return f"Were {names} made for each other?"


def quoted_text(book: Book, name: str) -> str:
    """An attribute in quotes with its part behind it: `“plug of the sensor” (upstream oxygen sensor)`."""
    record = attribute(book, name)
    title = lower_first(record["title"]) if record else name
    return f"\u201c{title}\u201d ({lower_first(slot_title(book, name.split('.')[0]))})"


def fitted_question(book: Book, slot: str) -> str:
    """Whether a part is there, as a question: the slot's own words, or else made from its title."""
    return book.data["slots"][slot].get("ask") or f"Is there {a_part(book, slot)}?"


def a_part(book: Book, slot: str) -> str:
    """The slot's title with its article; none before a title of several parts."""
    title = lower_first(slot_title(book, slot))
    if several(title) or title.startswith("another "):
        return title
    return f"{'an' if title[:1] in 'aeiouAEIO' else 'a'} {title}"


def several(title: str) -> bool:
    """Whether a title names several things, so that no article stands before it."""
    return title.split(" of ")[0].endswith("s") and not title.split(" of ")[0].endswith(("ss", "us"))


def which_question(book: Book, slot: str) -> str:
    """Which listed part it is, as a question."""
    title = lower_first(slot_title(book, slot))
    return f"Which {title} {'are they' if several(title) else 'is it'}?"


def question_text(book: Book, name: str) -> str:
    """The question for `slot.attr`, `slot.fitted`, a slot or a relation."""
    kind, _, rest = name.partition(" ")
    if rest:
        return relation_question(book, kind, rest.split(" " if kind == "same" else " + "))
    if name.endswith(".fitted"):
        return fitted_question(book, name.split(".")[0])
    return (attribute(book, name) or {}).get("ask") or which_question(book, name.split(".")[0])


def sentence(text: str) -> str:
    """The text with a capital and a full stop."""
    return text[:1].upper() + text[1:] + ("" if text.endswith(".") else ".")


def join(parts: Sequence[str], word: str = "and") -> str:
    """`a, b and c`."""
    parts = list(parts)
    return parts[0] if len(parts) == 1 else f"{', '.join(parts[:-1])} {word} {parts[-1]}" if parts else ""


def mask_text(book: Book, space: Space, v: int, mask: int, dom: int = -1) -> str:
    """What it means that a variable lies in `mask`, as a clause; `dom` is what it may be at all."""
    name, values = space.names[v], space.values[v]
    kind, _, rest = name.partition(" ")
    if kind == "same":
        return relation_text(book, "same", rest.split(" "), "yes" if mask & 1 else "no")
    if kind in ("came_together", "made_for", "listed_together"):
        return relation_text(book, kind, rest.split(" + "), "yes" if mask & 1 else "no")
    if kind.startswith("sum.") or " - " in name:
        return quantity_text(book, name, values, mask)
    record = attribute(book, name)
    if record is not None and record["type"] == "number":
        cuts = book.cuts.get(name, ())
        bands = mask & ~(1 << (len(values) - 1))
        if not bands:
            return f"{name_text(book, name)}: does not apply"
        return f"{name_text(book, name)}: {span_text(*band_text(cuts, bands), record.get('unit') or '')}"
    if name in space.part:
        chosen = [x for i, x in enumerate(values) if mask >> i & 1]
        return f"the {lower_first(slot_title(book, name))} is {join([part_text(book, x) for x in chosen], 'or')}"
    if name.endswith(".fitted"):
        return f"{slot_title(book, name.split('.')[0])}: {'fitted' if mask & 1 else 'none fitted'}"
    return f"{name_text(book, name)}: {labels_text(book, name, values, mask, dom)}"


def labels_text(book: Book, name: str, values: Sequence[str], mask: int, dom: int = -1) -> str:
    """The labels of the values in `mask`; where they are most of what may be, those that are left out."""
    applies = [i for i, x in enumerate(values) if x != NA]
    some = [values[i] for i in applies if mask >> i & 1]
    others = [values[i] for i in applies if dom >> i & 1 and not mask >> i & 1]
    if not some:
        return "does not apply"
    if others and len(some) > 2 * len(others):
        return f"anything but {labels_joined([value_text(book, name, x) for x in others])}"
    text = labels_joined([value_text(book, name, x) for x in some])
    return text if len(applies) == len(values) or not mask >> (len(values) - 1) & 1 or dom == -1 else f"{text}, or it does not apply"


def labels_joined(labels: Sequence[str]) -> str:
    """Labels as alternatives; in quotes when there are several, since a label may hold commas of its own."""
    return labels[0] if len(labels) == 1 else join([f"\u201c{label}\u201d" for label in labels], "or")


def when_text(rows: Sequence[Sequence[str]], more: int) -> str:
    """Alternatives of clauses as one clause for a sentence that begins with `if`."""
    alternatives = ["; ".join([clauses[0], *(f"and {c}" if not c.startswith("unless ") else c for c in clauses[1:])])
                    for clauses in rows if clauses]
    rest = [f"in {more} more case{'s' if more > 1 else ''}"] if more else []
    return "; or else ".join([*alternatives, *rest])


def quantity_text(book: Book, name: str, values: Sequence[str], mask: int) -> str:
    """A sum, or a comparison of two quantities, as a clause."""
    if " - " in name:
        a, _, b = name.partition(" - ")
        words = [w for i, w in ((0, "below"), (1, "equal to"), (2, "above")) if mask >> i & 1]
        return f"{quantity_title(book, a)} is {join(words, 'or')} {quantity_title(book, b)}"
    sum_name = name.split(" ")[0]
    record = book.data["sums"][sum_name[4:]]
    bands = mask & ~(1 << (len(values) - 1))
    if not bands:
        return f"{lower_first(record['title'])} does not apply"
    return f"{lower_first(record['title'])} is {span_text(*band_text(book.cuts.get(sum_name, ()), bands), record['unit'])}"


def quantity_title(book: Book, name: str) -> str:
    """The title of a sum or numeric attribute."""
    head = name.split(" ")[0]
    return lower_first(book.data["sums"][head[4:]]["title"]) if head.startswith("sum.") else quoted_text(book, head)


def part_text(book: Book, candidate: str) -> str:
    """A candidate's title: a listed part by its name."""
    family = book.data["families"].get(candidate)
    if family is not None:
        return family["title"]
    return {"part": "an unlisted one", "none": "not there", "free": "one made to this specification"}.get(candidate, candidate)


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
        return f"{name_text(book, name)}: {span_text(*told.span, (attribute(book, name) or {}).get('unit') or '')}"
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
        text += f" {passed} more rule{'s were' if passed > 1 else ' was'} not looked at, because nobody told of all the parts."
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


def clash_text(because: Sequence[str]) -> str:
    """No single rule fails by itself: what is told of several rules together leaves nothing."""
    return f"No one rule stands alone in the way; together they leave nothing that works: {join(list(because))}."


def because_text(told: Sequence[str], rules: Sequence[str]) -> str:
    """The clash as one sentence: because ... and ..., the rules ... cannot be met."""
    if not told:
        return f"Whatever the parts turn out to be, {join([lower_first(r) for r in rules])} cannot be met."
    return f"Because {join([lower_first(t) for t in told])}, this cannot be met: {join([lower_first(r) for r in rules])}."


def change_text(book: Book, build: Build, slot: str, family: str | None) -> str:
    """A change of part as an instruction."""
    title = lower_first(slot_title(book, slot))
    if build.slots[slot].state == "none":
        return f"Fit a {title}: {part_text(book, family or 'free')}"
    return f"Change the {title} to {part_text(book, family or 'free')}"


def way_text(book: Book, slot: str, attr: str, value: str) -> str:
    """A change of how something is done."""
    name = f"{slot}.{attr}"
    return f"Do it otherwise: {lower_first(name_text(book, name))} becomes {value_text(book, name, value)}"


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
