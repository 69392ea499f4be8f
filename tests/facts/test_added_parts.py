"""A part that an addition puts in is described by it, so that no rule passes it by without a word."""

from __future__ import annotations

from build_tools.index import attribute_type
from tests.scenarios.scenario import configured_facts
from wizard.engine import load

# What an addition leaves open, and why.
OPEN = {
    ("stand_alone_for_transmission", "transmission_controller.message_set"): "not known before the box is chosen",
    ("new_diagnostic_connector", "diagnostic_connector.link_pins"): "the rule on pins asks for the wires, which come with it",
}


def with_needs(additions: dict[str, dict], name: str) -> set[str]:
    """Return an addition and everything that comes with it."""
    found: set[str] = set()
    waiting = [name]
    while waiting:
        one = waiting.pop()
        if one not in found:
            found.add(one)
            waiting.extend(additions[one].get("needs") or ())
    return found


def left_open() -> set[tuple[str, str]]:
    """Return each addition with each attribute of the part it puts in that some rule reads and nothing sets."""
    facts = configured_facts()
    rules = load(facts.text).rules
    additions = facts.book["additions"]
    found = set()
    for name, record in additions.items():
        put_in = {key.split(".")[0] for key, value in (record.get("sets") or {}).items() if key.endswith(".fitted") and value == {"to": "yes"}}
        sets = {key for one in with_needs(additions, name) for key in additions[one].get("sets") or {}}
        for rule in rules:
            reads = {key for key in rule.reads if key.split(".")[0] in put_in and not key.endswith(".fitted")}
            if not set(rule.told_only) & reads:
                found |= {(name, key) for key in reads - sets}
    return found


def test_an_addition_that_puts_a_part_in_sets_what_rules_read_of_it() -> None:
    assert left_open() == set(OPEN)


def test_no_addition_puts_in_a_part_of_which_rules_want_a_number() -> None:
    facts = configured_facts()
    numbers = [(name, key) for name, key in left_open() for slot, attribute in [key.split(".")]
               if attribute_type(facts.index.attributes(facts.index.slots[slot])[attribute]) == "number"]

    assert numbers == []
