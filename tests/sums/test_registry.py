"""Every registered sum is whole: names, ranges, words, sources, and only a few imports."""
from __future__ import annotations

import ast
import inspect
import math
import subprocess
import sys
from pathlib import Path

import pytest

import wizard.sums
from wizard.sums.forms import READERS, REGISTRY
from wizard.sums.forms.units import OTHER
from wizard.sums.functions import FUNCTIONS

FOLDER = Path(wizard.sums.__file__).parent
MODULES = sorted(FOLDER.glob("**/*.py"))
ALLOWED = {"__future__", "bisect", "collections", "functools", "json", "math", "re", "typing"}
KINDS = {"published", "common-practice", "from-memory", "measured", "invented"}
NAMES = sorted(REGISTRY)
BRIEF = ["tyre_revs_per_km", "pulses_per_km_shaft", "pulses_per_km_wheel", "speed_number_error_percent"]
SUBJECTS = {"tyre", "speed", "gearing", "airflow", "fuel", "injector electrics", "wire", "grounds", "charging", "cooling",
            "trigger", "data link", "throttle", "speedometer", "fit"}


def test_every_subject_has_sums_and_the_speed_number_is_among_them():
    found = {one.subject for one in REGISTRY.values()}

    assert found == SUBJECTS
    assert set(BRIEF) <= set(REGISTRY)


@pytest.mark.parametrize("module", MODULES, ids=lambda m: str(m.relative_to(FOLDER)))
def test_a_module_imports_only_a_few_of_the_standard_library_and_stays_short(module):
    tree = ast.parse(module.read_text(encoding="utf-8"))
    imported = {a.name.split(".")[0] for n in ast.walk(tree) if isinstance(n, ast.Import) for a in n.names}
    imported |= {n.module.split(".")[0] for n in ast.walk(tree) if isinstance(n, ast.ImportFrom) and n.level == 0}

    assert imported <= ALLOWED
    assert len(module.read_text(encoding="utf-8").splitlines()) < 300
    assert "dataclass" not in imported


@pytest.mark.parametrize("module", MODULES, ids=lambda m: str(m.relative_to(FOLDER)))
def test_a_module_uses_only_arithmetic_that_every_runtime_rounds_alike(module):
    """`**`, `math.log`, `math.exp` and the like differ in the last digit between CPython and the browser's Python."""
    nodes = list(ast.walk(ast.parse(module.read_text(encoding="utf-8"))))
    powers = [n.lineno for n in nodes if isinstance(n, ast.BinOp) and isinstance(n.op, ast.Pow)]
    named = {n.attr for n in nodes if isinstance(n, ast.Attribute) and isinstance(n.value, ast.Name) and n.value.id == "math"}

    assert powers == []
    assert named <= {"pi", "sqrt", "frexp", "ldexp", "floor", "isfinite", "inf", "nan"}


@pytest.mark.parametrize("name", NAMES)
def test_a_sum_takes_exactly_its_params_as_keywords(name):
    one = REGISTRY[name]
    signature = inspect.signature(one.function)

    assert one.function.__name__ == name == one.name
    assert tuple(signature.parameters) == tuple(p.name for p in one.params)


@pytest.mark.parametrize("name", NAMES)
def test_a_sum_says_its_formula_range_and_source(name):
    one = REGISTRY[name]
    words = inspect.getdoc(one.function)

    assert ("Formula:" in words and "Source:" in words and "Range:" in words) or "as `" in words
    assert one.formula and one.title and one.monotone.endswith(".")
    assert one.sources and all(kind in KINDS and text.endswith(".") for kind, text in one.sources)
    assert all(note.endswith(".") for note in one.notes)
    assert 0 <= one.uncertainty < 0.5 and 2 <= one.digits <= 6
    assert one.band is None or (one.band.says.endswith(".") and one.band.source[0] in KINDS)


@pytest.mark.parametrize("name", NAMES)
def test_an_input_has_a_range_its_usual_value_lies_in_and_a_way_to_measure_it(name):
    for param in REGISTRY[name].params:
        assert param.measure.endswith("."), param
        assert param.reads is None or param.reads in READERS
        if param.reads == "flow_table":
            continue
        assert param.low < param.high, param
        assert param.usual is not None and param.low <= param.usual <= param.high, param
        assert not param.whole or param.usual == round(param.usual), param


@pytest.mark.parametrize("name", NAMES)
def test_a_judgement_of_the_trade_is_not_passed_off_as_published(name):
    band = REGISTRY[name].band

    assert band is None or "Regulation" in band.says or band.source[0] != "published"


def test_units_that_differ_between_the_systems_are_all_known():
    metric = {"mm", "m", "km/h", "m/s", "turns/km", "pulses/km", "g/s", "L", "L/h", "L/min", "kPa", "kW", "g/kWh", "°C", "K",
              "kg/L", "kg/m³", "Ω/km", "kJ/kg K", "in"}

    assert metric == set(OTHER)


@pytest.mark.parametrize("name", NAMES)
def test_a_sum_gives_a_finite_number_at_every_corner_of_its_ranges(name):
    one = REGISTRY[name]
    if any(p.reads == "flow_table" for p in one.params):
        return
    may_be_endless = name in ("fuse_for_load_a", "smallest_listed_section_mm2")
    for corner in range(2 ** len(one.params)):
        inputs = {p.name: (p.high if corner >> i & 1 else p.low) for i, p in enumerate(one.params)}
        value = one.function(**inputs)
        assert isinstance(value, float) and not math.isnan(value), inputs
        assert math.isfinite(value) or may_be_endless, inputs


def test_the_engine_reaches_every_sum_without_the_forms():
    """The archive that boots for the check has the arithmetic only."""
    script = ("import sys, wizard.engine; from wizard.sums.functions import FUNCTIONS; "
              "print(' '.join([m for m in sys.modules if m.startswith('wizard.sums.forms')]), '|', *FUNCTIONS)")
    forms, _, names = subprocess.run([sys.executable, "-c", script], capture_output=True, text=True, check=True).stdout.partition("|")
    told = {name for name, one in REGISTRY.items() if not any(p.reads == "flow_table" for p in one.params)}

    assert forms.strip() == ""
    assert told <= set(names.split())
    assert [name for name in told if FUNCTIONS[name] is not REGISTRY[name].function] == []


def test_the_sums_import_quickly_and_bring_no_heavy_module():
    loaded = {m for m in sys.modules if m.startswith("wizard.sums")}
    classes = [n for m in MODULES for n in ast.walk(ast.parse(m.read_text(encoding="utf-8"))) if isinstance(n, ast.ClassDef)]

    assert len(loaded) <= len(MODULES)
    assert len(classes) <= 16
