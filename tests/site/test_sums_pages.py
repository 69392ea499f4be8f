"""Each sum of the registry has its page: what it is for, what goes in, a worked example by the same function, and links both ways."""

from __future__ import annotations

import re
from pathlib import Path
from urllib.parse import urldefrag

import brotli
import pytest

from build_tools.pages.crossref import reads
from build_tools.pages.sum_names import explained
from build_tools.pages.sum_uses import RESULT_OF
from build_tools.pages.sum_words import EXAMPLE_INVENTED, INVENTED_TABLE, PURPOSES, SUBJECTS
from build_tools.pages.sums import also_read
from tests.site.building import real_book
from tests.site.reading import ReadPage, one_line
from wizard.sums.forms import REGISTRY, Result, work_out
from wizard.sums.forms.units import read_number

NAMES = sorted(REGISTRY)
OWN_WEIGHT = 60_000


def test_every_sum_has_a_page_and_a_sentence_that_says_what_it_is_for(pages: dict[str, ReadPage]) -> None:
    index = pages["sums/index.html"].text

    assert set(PURPOSES) == set(REGISTRY)
    assert {one.subject for one in REGISTRY.values()} == set(SUBJECTS)
    assert {path.split("/")[1] for path in pages if re.fullmatch(r"sums/\w+/index\.html", path)} == set(REGISTRY)
    assert [name for name in NAMES if PURPOSES[name] not in index or REGISTRY[name].title not in index] == []


@pytest.mark.parametrize("name", NAMES)
def test_a_page_shows_its_inputs_formula_sources_and_a_worked_example(pages: dict[str, ReadPage], name: str) -> None:
    one, text = REGISTRY[name], pages[f"sums/{name}/index.html"].text
    found = work_out(name, {p.name: INVENTED_TABLE if p.usual is None else p.usual for p in one.params})
    assert isinstance(found, Result)
    said = [one.title, PURPOSES[name], one.formula, one.monotone, *one.notes, *(source for _, source in one.sources), found.shown]
    said += [text for param in one.params for text in (param.title, param.measure)] + [line.shown for line in found.inputs]
    said += [text for effect in found.effects for text in (effect.shown_lower, effect.shown_higher) if text]
    said += [text for row in explained(one) for text in row]
    said += [one.band.says, one.band.source[1]] if one.band else []

    assert [sentence for sentence in said if one_line(sentence) not in text] == []
    assert found.tells == "" or one_line(found.tells) in text
    assert (EXAMPLE_INVENTED in text) == any(p.usual is None for p in one.params)


def test_a_rule_and_the_sums_it_reads_lead_to_each_other(pages: dict[str, ReadPage]) -> None:
    book = real_book()
    pairs = [(rule, total) for rule, record in book["rules"].items() for total in reads(book, record).sums]
    missing = []
    for rule, total in pairs:
        function = book["sums"][total]["function"]
        to_sum = [urldefrag(value) for tag, _, value in pages[f"rules/{rule}/index.html"].addresses if tag == "a"]
        to_rule = [value for tag, _, value in pages[f"sums/{function}/index.html"].addresses if tag == "a"]
        if (f"../../sums/{function}/", total) not in [(one.url, one.fragment) for one in to_sum]:
            missing.append(f"{rule} -> {total}")
        if f"../../rules/{rule}/" not in to_rule:
            missing.append(f"{total} -> {rule}")

    assert len(pairs) > 10
    assert missing == []


def test_each_number_offered_to_the_check_is_asked_for_in_the_very_unit() -> None:
    book = real_book()
    wrong = []
    for name, variables in RESULT_OF.items():
        for variable in variables:
            slot, _, attribute = variable.partition(".")
            kind = book["slots"].get(slot, {}).get("kind")
            entry = next((a for a in book["kinds"].get(kind, {"attributes": []})["attributes"] if a["id"] == attribute), None)
            if entry is None or entry["type"] != "number" or entry["unit"] != REGISTRY[name].unit:
                wrong.append((name, variable))

    assert wrong == []


def test_every_number_of_the_checks_own_sums_can_be_put_into_it(site: Path, pages: dict[str, ReadPage]) -> None:
    silent = [name for name, record in real_book()["sums"].items()
              if "Put these numbers into a check" not in section(pages[f"sums/{record['function']}/index.html"].text, record["title"])]

    assert silent == []


def section(text: str, title: str) -> str:
    """Return the text of a page from the last heading with this title on."""
    return text[text.rindex(one_line(title)):]


def test_each_spelling_of_a_unit_that_a_page_names_is_read() -> None:
    units = {param.unit for one in REGISTRY.values() for param in one.params}

    assert [(unit, name) for unit in sorted(units) for name in also_read(unit) if read_number(f"1 {name}", unit) is None] == []
    assert also_read("mm") == ["in", "inch", '"', "cm"]


def test_a_page_of_a_sum_is_light_by_itself(site: Path, pages: dict[str, ReadPage]) -> None:
    """The page, its styles and its modules; the search index and the runtime are fetched apart."""
    modules = sorted((site / "assets/sums").glob("*.mjs")) + [site / "assets/check" / name for name in ("dom.mjs", "address.mjs", "build.mjs")]
    ours = sum(len(brotli.compress(file.read_bytes(), quality=5)) for file in [*modules, site / "assets/style/sums.css"])
    pages_weigh = {path: len(brotli.compress(page.path.read_bytes(), quality=5)) for path, page in pages.items() if path.startswith("sums/")}

    assert len(modules) > 8
    assert max(pages_weigh.values()) + ours < OWN_WEIGHT
