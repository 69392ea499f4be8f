"""A formula set as MathML is the same reckoning as the line it was set from."""

from __future__ import annotations

import math
import random
import re
from xml.etree import ElementTree

import pytest

from build_tools.pages.formula import is_prose, lines, mathml
from wizard.sums.forms import REGISTRY

SET = [one for one in REGISTRY.values() if not is_prose(one.formula)]
PROSE = ("the section whose ohms per km are ", "the next rating up from ", "the larger of ")


def value_of(name: str) -> float:
    """Return a number for a name, the same wherever the name stands: below 1, as the ratio under the one root with a difference is."""
    return math.pi if name == "π" else random.Random(name).uniform(0.1, 0.9)


def reckoned(line: str) -> float:
    """Return what a line gives by the ordinary rules: powers first, then × and ÷ from the left, then + and -."""
    text = re.sub(r"(?<=\d) (?=\d{3})", "", line)
    words = re.compile(r"(?:\d+(?:\.\d+)? )?(?:[^\W\d_²]|°)[^×÷+()√²^=]*?(?=\s*(?:[×÷+()√²^=]|$)| - )")
    text = words.sub(lambda found: f"value_of({found[0].strip()!r})", text)
    text = text.replace("²", "**2").replace("^", "**").replace("×", "*").replace("÷", "/").replace("√", "math.sqrt")
    return float(eval(text, {"math": math, "value_of": value_of}))


def read(element: ElementTree.Element) -> str:
    """Return a MathML element as a Python expression; anything it does not know is an error."""
    inner = list(element)
    if element.tag in ("mrow", "msqrt", "math"):
        text = "".join(read(child) for child in inner)
        return f"math.sqrt({text})" if element.tag == "msqrt" else text if element.tag == "math" else f"({text})"
    if element.tag == "mfrac":
        return f"({read(inner[0])}/{read(inner[1])})"
    if element.tag == "msup":
        return f"({read(inner[0])}**{read(inner[1])})"
    text = (element.text or "").replace("\u00a0", " ")
    if element.tag == "mn":
        return text.replace(" ", "")
    if element.tag == "mo":
        return {"×": "*", "−": "-", "+": "+", "(": "(", ")": ")"}[text]
    assert element.tag in ("mi", "mtext")
    return f"value_of({text.strip()!r})"


def maths(formula: str) -> list[ElementTree.Element]:
    """Return the lines of a formula as MathML, each without the name it gives and the word before it."""
    found = ElementTree.fromstring(f"<all>{mathml(formula)}</all>")
    for row in (one[0] for one in found):
        equals = next((place for place, child in enumerate(row) if child.tag == "mo" and child.text == "="), -1)
        for child in list(row)[:equals + 1]:
            row.remove(child)
    return list(found)


def plain_lines(formula: str) -> list[str]:
    """Return what stands right of each equals sign, by a reading of its own: prose that only leads in is taken off."""
    parts = [part.split(" = ")[-1].strip() for part in re.split(r"; |, (?![^(]*\))", formula)]
    return [part for part in parts if re.search("[×÷√²^]| [-+] ", part)]


@pytest.mark.parametrize("one", SET, ids=lambda one: one.name)
def test_the_fractions_powers_and_roots_give_what_the_line_gives(one) -> None:
    wanted = plain_lines(one.formula)
    shown = [element for element in maths(one.formula) if element.findall(".//mo") + element.findall(".//mfrac") + element.findall(".//msqrt")]
    got = []
    for element, line in zip(shown, wanted, strict=True):
        lead = next((lead for lead in PROSE if line.startswith(lead)), "")
        for place, part in enumerate(line.removeprefix(lead).split(" and ") if lead else [line]):
            row = [child for child in element[0] if not (lead and child.tag == "mtext" and child.text.strip("\u00a0 ") in (lead.strip().replace(" ", "\u00a0"), "and"))]
            row = [child for child in row if not (child.text or "").startswith(",")]
            if lead:
                row = row[place:place + 1]
            box = ElementTree.Element("math")
            box.extend(row)
            got.append((line, eval(read(box), {"math": math, "value_of": value_of}), reckoned(part)))

    assert got
    assert [line for line, ours, theirs in got if not math.isclose(ours, theirs, rel_tol=1e-12)] == []


@pytest.mark.parametrize("one", SET, ids=lambda one: one.name)
def test_no_number_and_no_word_of_the_line_is_lost(one) -> None:
    text = " ".join("".join(element.itertext()) for element in ElementTree.fromstring(f"<all>{mathml(one.formula)}</all>").iter())
    known = set(re.findall(r"[\w°π]+", text.replace("\u00a0", " ").replace("\u2212", "-")))

    assert set(re.findall(r"[\w°π]+", one.formula.replace("²", " 2").replace("^", " "))) <= known


def test_divisions_at_the_end_make_one_fraction_and_others_stand_by_their_factor() -> None:
    assert mathml("a × b ÷ c ÷ d").count("<mfrac>") == 1
    assert mathml("a ÷ b × c ÷ d").count("<mfrac>") == 2
    assert mathml("a ÷ (b + c)").count("(") == 0
    assert mathml("a × (b + c)").count("<mo>(</mo>") == 1


@pytest.mark.parametrize("wrong", ["a × (b + c", "a × × b", "a ÷", "(a) b)"])
def test_a_line_that_is_no_formula_is_an_error(wrong: str) -> None:
    with pytest.raises(ValueError):
        mathml(wrong)


def test_names_are_kept_apart_from_the_signs_of_mark_up() -> None:
    assert "&lt;b&gt;" in mathml("a<b> × c")
    assert [line.name for line in lines("x × g, g = 1 ÷ (a + b)")] == ["", "g"]
