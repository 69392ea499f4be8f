"""Names, values and conditions as clauses, of which wording.py makes its sentences; plain text only, no mark-up."""
from __future__ import annotations

from math import inf, isfinite
from typing import Any, Sequence

from .model import Book, OTHER
from .numbers import band_text
from .names import NA
from .space import Space


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


def digits_of(*values: float) -> int:
    """How many significant digits show numbers as they were told: at least four, at most ten."""
    return max([4] + [len(f"{abs(v):.10g}".split("e")[0].replace(".", "").strip("0")) for v in values if isfinite(v)])


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


RELATIONS = {               # yes and no of each; what ends in a comma's addition stands last where several are said
    "made_for": ("are made for each other", "are not made for each other"),
    "listed_together": ("are listed as a matched set", "are not listed as a matched set"),
    "came_together": ("came from one donor, unaltered", "did not come from one donor, unaltered"),
}


def relation_text(book: Book, kind: str, of: Sequence[str], value: str = "yes") -> str:
    """What a relation says, as a clause."""
    if kind == "same":
        names = " and ".join(quoted_text(book, n) for n in of)
        return f"{names} are {'the same' if value == 'yes' else 'different'}"
    return f"{parts_text(book, of)} {RELATIONS[kind][value != 'yes']}"


def relations_texts(book: Book, relations: Sequence[tuple[str, Sequence[str]]], value: str) -> list[str]:
    """Several relations that are all so, or of which one is so, as clauses; what is said of the same parts is one clause.

    Of parts that came together and some of them that did, only the few are named: yes of all is yes of them, and no of
    them is no of all.
    """
    came = [set(of) for kind, of in relations if kind == "came_together"]
    some: dict[tuple[str, ...], list[str]] = {}
    for kind, of in sorted(relations, key=lambda one: list(RELATIONS).index(one[0])):
        if kind != "came_together" or not any(few < set(of) for few in came):
            some.setdefault(tuple(of), []).append(RELATIONS[kind][value != "yes"])
    return [f"{parts_text(book, of)} {join(said, 'or' if value == 'yes' else 'and')}" for of, said in sorted(some.items())]


def parts_text(book: Book, slots: Sequence[str]) -> str:
    """The parts by their titles, with one article for all: `the engine controller and accelerator pedal`."""
    return f"the {join([lower_first(slot_title(book, s)) for s in slots])}"


def quoted_text(book: Book, name: str) -> str:
    """An attribute in quotes with its part behind it: `“plug of the sensor” (upstream oxygen sensor)`."""
    record = attribute(book, name)
    title = lower_first(record["title"]) if record else name
    return f"\u201c{title}\u201d ({lower_first(slot_title(book, name.split('.')[0]))})"


def a_part(book: Book, slot: str) -> str:
    """The slot's title with its article; none before a title of several parts."""
    title = lower_first(slot_title(book, slot))
    if several(title) or title.startswith("another "):
        return title
    return f"{'an' if title[:1] in 'aeiouAEIO' else 'a'} {title}"


def several(title: str) -> bool:
    """Whether a title names several things, so that no article stands before it."""
    return title.split(" of ")[0].endswith("s") and not title.split(" of ")[0].endswith(("ss", "us"))


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
