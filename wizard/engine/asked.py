"""Which rules are in question for a build, which are only checks to make, and which were not looked at."""
from __future__ import annotations

from typing import NamedTuple

from .build import Build
from .model import Book, Instance
from .space import keep


class Asked(NamedTuple):
    """`rules` in question; `checks`: rules whose told-only facts nobody told; `passed`: rules not looked at, with the
    slots that nobody mentioned; `subjects` asked."""

    subjects: tuple[str, ...]
    rules: tuple[Instance, ...]
    checks: tuple[tuple[Instance, tuple[str, ...]], ...]
    passed: tuple[tuple[Instance, tuple[str, ...]], ...]
    stops: tuple[Instance, ...]


def what_is_asked(book: Book, build: Build) -> Asked:
    """Sort every rule of the book by whether this build asks about it."""
    told = tuple([(s, e.state == "exists", *e.told, *[a for o in e.options for a in o.told]) for s, e in build.slots.items()])
    key = ("asked", told, tuple([r.of for r in build.relations]), build.asks, build.whole_swap)
    return keep(book, key, lambda: _sorted(book, build))


def _sorted(book: Book, build: Build) -> Asked:
    named = {s for r in build.relations for n in r.of for s in (n.split(".")[0],)}
    mentioned = set(book.slot_order) if build.whole_swap else set(build.slots) | named
    telling = mentioned if build.whole_swap else {s for s, e in build.slots.items() if e.state != "exists"} | named
    told_of = [i for i in book.rules if all(s in telling for s in i.about)]
    if build.asks:
        subjects = set(build.asks) | {i.subject for i in told_of if _always(book, i) and _untold(build, i) == ()}
    else:
        subjects = {i.subject for i in told_of}
    rules, checks, passed = [], [], []
    for inst in book.rules:
        missing = tuple(s for s in inst.about if s not in mentioned)
        untold = _untold(build, inst)
        if missing or inst.subject not in subjects:
            if not missing or set(inst.about) & mentioned:
                passed.append((inst, missing))
        elif untold:
            checks.append((inst, untold))
        else:
            rules.append(inst)
    stops = tuple(i for i in book.stops if all(s in mentioned for s in i.about))
    return Asked(tuple(s for s in _subject_order(book) if s in subjects), tuple(rules), tuple(checks), tuple(passed),
                 tuple(s for s in stops if all(said(build, v) for v in s.told_only)))


def _always(book: Book, inst: Instance) -> bool:
    """Whether the rule's subject is in question whatever the build asks, as soon as its facts are told of."""
    return bool(book.data["subjects"][inst.subject].get("always"))


def _untold(build: Build, inst: Instance) -> tuple[str, ...]:
    """The attributes that make a rule a check only, because they count once told and nobody told them."""
    return tuple(sorted(v for v in inst.told_only if not said(build, v)))


def _subject_order(book: Book) -> list[str]:
    return list(book.data.get("subject_order") or sorted(book.data["subjects"]))


def said(build: Build, name: str) -> bool:
    """Whether anything was said of an attribute, be it that nobody knows."""
    slot, _, attr = name.partition(".")
    entry = build.slots.get(slot)
    if entry is None:
        return False
    return attr in entry.told or any(attr in o.told for o in entry.options)
