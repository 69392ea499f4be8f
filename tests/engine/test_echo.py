"""What an answer says back: told numbers as they were told, worked-out ones short, each check once and of a part that is there."""

from __future__ import annotations

from typing import Any

import pytest

from tests.scenarios.scenario import asker, configured_facts
from wizard.engine.clauses import digits_of, span_text

Json = dict[str, Any]
FED = {"injector": {"told": {"flow": 320}}, "engine": {"told": {"fuel_use": 300, "injectors": 8, "power": 240.1}},
       "fuel": {"told": {"density": 0.7434567}}}
OXYGEN = {"asks": ["oxygen_sensor_place"], "slots": {"oxygen_sensor_upstream": {"family": "o2_pm_first"}}}


@pytest.fixture(scope="module")
def ask() -> Any:
    """Return the engine on the configured facts."""
    return asker(configured_facts())


@pytest.mark.parametrize(("values", "digits"), [((8,), 4), ((320.1,), 4), ((12.345678,), 8), ((10_200,), 4), ((0.00745,), 4),
                                                ((3, 100.25), 5), ((1 / 3,), 10), ((float("inf"),), 4)])
def test_a_told_number_is_shown_with_as_many_digits_as_it_was_told(values: tuple[float, ...], digits: int) -> None:
    assert digits_of(*values) == digits


@pytest.mark.parametrize(("value", "shown"), [(12.345678, "12.345678 A"), (10_200, "10\u202f200 A"), (12_345.6, "12\u202f345.6 A"), (-150, "-150 A")])
def test_a_told_number_is_not_rounded_to_another_one(value: float, shown: str) -> None:
    assert span_text(value, value, "A", digits_of(value)) == shown


def test_an_answer_says_told_numbers_as_told_and_the_inputs_of_sums_shortly(ask: Any) -> None:
    answer = ask({"asks": ["injector_size"], "slots": FED})
    inputs = {row["name"]: row["shown"] for entry in answer["sums"] if entry["sum"] == "injector_duty" for row in entry["inputs"]}

    assert "Fuel, density: 0.7434567 kg/L" in [one["text"] for one in answer["rests_on"]["told"]]
    assert inputs == {"engine.fuel_use": "298.5 to 301.5 g/kWh", "engine.injectors": "8 injectors", "engine.power": "235.3 to 244.9 kW",
                      "fuel.density": "0.7397394 to 0.747174 kg/L", "injector.flow": "316.8 to 323.2 cc/min"}


def test_of_a_part_that_is_not_there_no_check_remains(ask: Any) -> None:
    build = {**OXYGEN, "slots": {**OXYGEN["slots"], "oxygen_sensor_downstream": "none"}}
    checks = ask(build)["scope"]["checks"]

    assert {check["slot"] for check in checks} == {"oxygen_sensor_upstream", None}
    assert len({check["text"] for check in checks}) == len(checks)


def test_a_check_that_is_asked_of_two_parts_says_of_which(ask: Any) -> None:
    build = {**OXYGEN, "slots": {**OXYGEN["slots"], "oxygen_sensor_downstream": {"family": "o2_pm_first"}}}
    texts = [check["text"] for check in ask(build)["scope"]["checks"]]

    assert len(set(texts)) == len(texts)
    assert {"Upstream oxygen sensor: How does the sensor's lead lie?", "Downstream oxygen sensor: How does the sensor's lead lie?"} <= set(texts)
