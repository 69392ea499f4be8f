"""A book and a build with every name replaced by the slot it stands for, and what is in question.

Written from the agreed meaning alone; shares no code with the engine.
"""

from __future__ import annotations

from typing import Any, Iterator, NamedTuple

from tests.oracle.held import once_a_book

Json = dict[str, Any]
Bought = tuple[str, "str | None"]
RANK = {"works": 0, "works-with-additions": 1, "cannot-tell": 2, "will-not-work": 3}
VERDICTS = sorted(RANK, key=RANK.__getitem__)
OTHER = "other"


class Case(NamedTuple):
    """One case of a rule with grounded tests and additions."""

    case: str
    verdict: str
    rows: tuple[tuple[Json, ...], ...]
    alternatives: tuple[tuple[Bought, ...], ...]


class Instance(NamedTuple):
    """A rule or stop, for one slot when it speaks of each slot of a kind."""

    id: str
    slot: str | None
    subject: str | None
    about: tuple[str, ...]
    partners: tuple[str, ...]
    helpers: tuple[str, ...]
    cases: tuple[Case, ...]
    needed: tuple[str, ...]  # slots without whose part the rule is out

    @property
    def tests(self) -> Iterator[Json]:
        """Every test of every case."""
        return (test for case in self.cases for row in case.rows for test in row)

    def reads(self, book: Json) -> set[str]:
        """Every `slot.attribute` (and `slot.fitted`) that a test reads, by way of sums too."""
        return {name for test in self.tests for name in test_reads(book, test)}


    def slots_read(self, book: Json) -> set[str]:
        """Return the slots whose part can matter: a helper only when a test reads it."""
        named = {slot for test in self.tests for slot in test.get("of", [])}
        return {*self.about, *self.partners, *named, *(name.split(".")[0] for name in self.reads(book))}


class Option(NamedTuple):
    """One part that may stand in a slot: a listed family or an unlisted part, with what was told of it."""

    family: str | None
    told: Json


class Statement(NamedTuple):
    """What the build says of one slot."""

    state: str
    options: tuple[Option, ...]
    told: Json
    keep: bool


def test_reads(book: Json, test: Json) -> set[str]:
    """Return the attributes one grounded test reads; a relation reads none."""
    names: list[str] = [test[key] for key in ("on", "same_as", "low", "high") if isinstance(test.get(key), str)]
    found: set[str] = set()
    for name in names:
        found |= set(sum_inputs(book, name).values()) if name.startswith("sum.") else {name}
    return found


def sum_inputs(book: Json, name: str) -> dict[str, str]:
    """Return parameter -> `slot.attribute` of a grounded sum name, `sum.id` or `sum.id@binding=slot`."""
    bare, _, bound = name[len("sum."):].partition("@")
    binding, _, slot = bound.partition("=")
    inputs = book["sums"][bare]["inputs"]
    return {param: _swap(var, binding, slot or None) for param, var in inputs.items()}


def _swap(name: str, binding: str | None, slot: str | None) -> str:
    place, dot, attr = name.partition(".")
    return f"{slot}{dot}{attr}" if slot and place == binding else name


def _ground_name(book: Json, name: str, binding: str | None, slot: str | None) -> str:
    if name.startswith("sum."):
        inputs = book["sums"][name[len("sum."):]]["inputs"].values()
        bound = slot and any(var.split(".")[0] == binding for var in inputs)
        return f"{name}@{binding}={slot}" if bound else name
    return _swap(name, binding, slot)


def _ground_test(book: Json, test: Json, binding: str | None, slot: str | None) -> Json:
    new = dict(test)
    for key in ("on", "same_as", "low", "high"):
        if isinstance(new.get(key), str):
            new[key] = _ground_name(book, new[key], binding, slot)
    if "of" in new:
        new["of"] = sorted(_swap(name, binding, slot) for name in new["of"])
    return new


def instances(book: Json, record: Json) -> list[Instance]:
    """Ground one rule or stop: one instance, or one for each slot of the kind it speaks of each of."""
    each = record.get("each")
    if not each:
        return [_instance(book, record, None, None)]
    (binding, kind), = each.items()
    return [_instance(book, record, binding, slot) for slot in book["kinds"][kind]["slots"]]


def _instance(book: Json, record: Json, binding: str | None, slot: str | None) -> Instance:
    cases = record.get("cases") or [{"case": "holds", "verdict": "will-not-work", "when": record["when"]}]
    grounded = []
    for case in cases:
        rows = tuple(tuple(_ground_test(book, t, binding, slot) for t in row) for row in case["when"])
        alternatives = tuple(tuple((a, slot if book["additions"][a].get("each") else None) for a in alternative)
                             for alternative in case.get("additions") or [])
        grounded.append(Case(case["case"], case["verdict"], rows, alternatives))
    roles = [tuple(_swap(name, binding, slot) for name in record[role]) for role in ("about", "partners", "helpers")]
    read = {test.get("on") for case in grounded for row in case.rows for test in row}
    needed = tuple(name for name in (*roles[0], *roles[1]) if f"{name}.fitted" not in read)
    return Instance(record["id"], slot, record.get("subject"), *roles, tuple(grounded), needed)


def addition_sets(book: Json, bought: Bought) -> dict[str, tuple[str, str]]:
    """Return variable -> ("to", value) or ("same_as", variable) of one addition."""
    record, slot = book["additions"][bought[0]], bought[1]
    binding = next(iter(record.get("each") or {}), None)
    found = {}
    for var, how in record["sets"].items():
        (key, value), = how.items()
        found[_swap(var, binding, slot)] = (key, _swap(value, binding, slot) if key == "same_as" else value)
    return found


def with_needs(book: Json, alternative: tuple[Bought, ...]) -> frozenset[Bought]:
    """Return the additions of an alternative and everything they need."""
    found: set[Bought] = set()
    left = list(alternative)
    while left:
        bought = left.pop()
        if bought not in found:
            found.add(bought)
            left += [(need, bought[1] if book["additions"][need].get("each") else None)
                     for need in book["additions"][bought[0]]["needs"]]
    return frozenset(found)


def blocked(book: Json, build: Json, bought: Bought) -> bool:
    """Return whether a kept slot or the wish that nothing be added rules this addition out."""
    record, slot = book["additions"][bought[0]], bought[1]
    binding = next(iter(record.get("each") or {}), None)
    changed = [_swap(name, binding, slot) for name in record["changes"]]
    said = build.get("slots", {})
    if any(isinstance(said.get(name), dict) and said[name].get("keep") for name in changed):
        return True
    nothing = build.get("nothing_added", False)
    return bool(nothing) and not (isinstance(nothing, dict) and record["type"] in nothing["except"])


def statement(book: Json, build: Json, slot: str) -> Statement:
    """Return what the build says of a slot, the slot's `if_unsaid` when it says nothing."""
    said = build.get("slots", {}).get(slot, book["slots"][slot]["if_unsaid"])
    said = {"state": said} if isinstance(said, str) else said
    told, keep = said.get("told", {}), bool(said.get("keep"))
    kind = book["slots"][slot]["kind"]
    if "family" in said:
        return Statement("part", (Option(said["family"], told),), told, keep)
    if "one_of" in said:
        return Statement("one_of", tuple(Option(f, told) for f in said["one_of"]), told, keep)
    if "in_hand" in said:
        options = tuple(Option(one.get("family"), {**told, **one.get("told", {})}) for one in said["in_hand"])
        return Statement("in_hand", options, told, keep)
    state = said.get("state", "part")
    if state == "open" and book["kinds"][kind]["open_from"] == "made_to_order":
        state = "made_to_order"
    if state == "open":
        listed = sorted(f for f, record in book["families"].items() if record["kind"] == kind)
        return Statement("open", tuple(Option(f, told) for f in listed), told, keep)
    return Statement(state, () if state == "none" else (Option(None, told),), told, keep)


class Scope(NamedTuple):
    """Which subjects are asked, which rules are in question, which are only checks, which are taken as right."""

    asked: tuple[str, ...]
    rules: tuple[Instance, ...]
    taken: tuple[Instance, ...]
    checks: tuple[Instance, ...]
    stops: tuple[Instance, ...]


Grounded = tuple[tuple[Instance, frozenset[str]], ...]     # each with what it reads that only counts once told


@once_a_book
def all_rules(book: Json) -> Grounded:
    """Ground every rule of a book."""
    return _all_of(book, "rules")


@once_a_book
def all_stops(book: Json) -> Grounded:
    """Ground every stop of a book."""
    return _all_of(book, "stops")


def _all_of(book: Json, section: str) -> Grounded:
    grounded = [i for one in sorted(book[section]) for i in instances(book, book[section][one])]
    return tuple((i, frozenset(name for name in i.reads(book) if _told_only(book, name))) for i in grounded)


def spoken_of(book: Json, build: Json, asked: Scope, stop: Instance) -> bool:
    """Return whether a refusal that is only possible is worth saying: something it reads was told, is on record for a
    part that was named, or is read by a rule in question. One that reads no attribute is always said."""
    def read_by(one: Instance) -> set[str]:
        names = {name for case in one.cases for row in case.rows for test in row for name in test_reads(book, test)}
        return {name for name in names if not name.endswith(".fitted")}

    def known(name: str) -> bool:
        slot, _, attr = name.partition(".")
        said = build.get("slots", {}).get(slot)
        if not isinstance(said, dict):
            return False
        every = [said, *said.get("in_hand", [])]
        families = {one["family"] for one in every if "family" in one} | set(said.get("one_of", []))
        return any(attr in one.get("told", {}) for one in every) or any(
            attr in book["families"][family]["attributes"] for family in families)

    reads = read_by(stop)
    in_question = {name for one in (*asked.rules, *asked.taken) for name in read_by(one)}
    return not reads or any(name in in_question or known(name) for name in reads)


def scope(book: Json, build: Json) -> Scope:
    """Sort the rules of a book by what the build puts in question."""
    slots, telling = _mentioned(book, build)
    grounded = [(i, told) for i, told in all_rules(book) if slots.issuperset(i.about)]
    told_of = [(i, told) for i, told in grounded if telling.issuperset(i.about)]
    asked = set(build.get("asks") or {i.subject for i, _ in told_of})
    asked |= {i.subject for i, told in told_of if book["subjects"][i.subject].get("always") and _all_told(build, told)}
    taken_ids = {one["rule"] for one in build.get("taken_as_right", [])}
    rules, taken, checks = [], [], []
    for one, told in grounded:
        if one.subject in asked:
            unsaid = not _all_told(build, told)
            (checks if unsaid else taken if one.id in taken_ids else rules).append(one)
    return Scope(tuple(sorted(asked)), tuple(rules), tuple(taken), tuple(checks),
                 tuple(i for i, told in all_stops(book) if slots.issuperset(i.about) and _all_told(build, told)))


def _mentioned(book: Json, build: Json) -> tuple[set[str], set[str]]:
    """Return the slots that are mentioned, by a relation too, and those of which more is said than that they exist."""
    if build.get("whole_swap"):
        return set(book["slots"]), set(book["slots"])
    said = build.get("slots", {})
    related = {name.split(".")[0] for one in build.get("relations", []) for key in one if key not in ("is", "says")
               for name in one[key]}
    exists = {slot for slot, one in said.items() if isinstance(one, dict) and not set(one) - {"keep"}}
    return set(said) | related, (set(said) - exists) | related


def _all_told(build: Json, names: frozenset[str]) -> bool:
    """Return whether each attribute that only counts once told was told, or said unknown."""
    return all(_told_or_unknown(build, name) for name in names)


def attribute(book: Json, name: str) -> Json | None:
    """Return the attribute record of `slot.attribute`, None for `slot.fitted`."""
    slot, attr = name.split(".")
    return next((a for a in book["kinds"][book["slots"][slot]["kind"]]["attributes"] if a["id"] == attr), None)


def _told_only(book: Json, name: str) -> bool:
    record = attribute(book, name)
    return bool(record and record["told_only"])


def _told_or_unknown(build: Json, name: str) -> bool:
    slot, attr = name.split(".")
    said = build.get("slots", {}).get(slot)
    if not isinstance(said, dict):
        return False
    return attr in said.get("told", {}) or any(attr in one.get("told", {}) for one in said.get("in_hand", []))
