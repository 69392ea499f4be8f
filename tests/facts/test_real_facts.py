"""The facts of this repository have no problems, and the command that people use says the same."""

from __future__ import annotations

import re
from datetime import date
from itertools import product

from build_tools.checks import check_facts
from build_tools.compile import compile_book
from build_tools.config import configured_layers
from build_tools.index import index
from build_tools.problems import Problem, printed
from build_tools.records import gather

PLUG_AND_ORDER = (
    ("plug", "terminal_order"),
    ("plug", "cavity_order"),
    ("plug", "cavity_jobs"),
    ("airflow_plug", "airflow_order"),
    ("coil_plug", "coil_order"),
    ("oxygen_plug", "oxygen_cavity_order"),
    ("idle_plug", "idle_terminal_order"),
    ("alternator_plug", "alternator_jobs"),
)


def test_the_configured_facts_have_no_problems() -> None:
    layers = configured_layers()
    assert not isinstance(layers, Problem)
    facts = gather(layers)

    problems = check_facts(facts, date.today())

    assert [printed(problem) for problem in problems] == []
    assert len(facts.records) > 100


def test_what_is_read_of_the_cavities_fits_the_plug_that_is_drawn() -> None:
    layers = configured_layers()
    assert not isinstance(layers, Problem)
    book = compile_book(index(gather(layers)))
    faces = {name: sum(sum(plug["rows"]) for plug in face["plugs"]) for name, face in book["faces"].items()}
    compared = 0

    for family in book["families"].values():
        told = {name: entry["is"] for name, entry in family["attributes"].items()}
        words = {one["id"]: dict(one["values"]) for one in book["kinds"][family["kind"]]["attributes"]}
        for plug, order in PLUG_AND_ORDER:
            for face, jobs in product(told.get(plug, ()), told.get(order, ())):
                numbers = [int(one) for one in re.findall(r"\d+", words[order][jobs])]
                assert sorted(numbers) == list(range(1, faces[face] + 1)), f"{family['id']}: {words[plug][face]}: {words[order][jobs]}"
                compared += 1

    assert compared > 20
