"""Fault codes and symptoms on the pages: what to check stands in order, dangerous symptoms come first, links go both ways."""

from __future__ import annotations

import re
from pathlib import Path

from tests.site.building import real_book
from tests.site.reading import ReadPage

SECTION = re.compile(r'<section class="db-entry">(.*?)</section>', re.DOTALL)


def entries(site: Path, page: str) -> dict[str, str]:
    """Return the HTML of each entry of a shared page by its anchor, in the order of the page."""
    text = (site / page / "index.html").read_text("utf-8")
    found = SECTION.findall(text)
    return {match[1]: entry for entry in found if (match := re.search(r'<h3[^>]*\bid="([^"]+)"', entry))}


def test_every_code_says_what_it_means_and_what_to_check_in_order(site: Path) -> None:
    book, found = real_book(), entries(site, "codes")
    bare = [name for name, entry in found.items() if "<ol" not in entry or not book["codes"][name]["means"]]

    assert set(found) == set(book["codes"])
    assert len(found) > 200
    assert bare == []


def test_every_rule_that_names_a_code_is_linked_from_it_once(site: Path) -> None:
    found = entries(site, "codes")
    wrong = [(code, rule) for rule, record in real_book()["rules"].items() for code in {c for case in record["cases"] for c in case["codes"]}
             if found[code].count(f'href="../rules/{rule}/"') != 1]

    assert wrong == []


def test_dangerous_symptoms_stand_first_and_open_with_what_to_do(site: Path) -> None:
    book, found = real_book(), entries(site, "symptoms")
    dangerous = [name for name, record in book["symptoms"].items() if record["group"] == "danger"]
    opening = [found[name].index("db-caution") < found[name].index("Check in this order") for name in dangerous]

    assert len(found) >= 30
    assert len(dangerous) >= 8
    assert set(list(found)[: len(dangerous)]) == set(dangerous)
    assert all(opening)


def test_every_cause_of_a_symptom_is_on_its_entry_with_the_link_it_names(site: Path) -> None:
    found = entries(site, "symptoms")
    folders = {"rule": "rules/{}/", "find_out": "find-out/{}/", "code": "codes/#{}"}
    lacking = [(name, cause["cause"]) for name, record in real_book()["symptoms"].items() for cause in record["causes"]
               for kind, where in folders.items() if cause[kind] and f'href="../{where.format(cause[kind])}"' not in found[name]]

    assert lacking == []


def test_a_rule_names_the_symptoms_that_lead_to_it(pages: dict[str, ReadPage]) -> None:
    page = pages["rules/vss-needed/index.html"]

    assert re.search("What the driver may notice: [^.]*It stalls when you coast to a stop", page.text)
    assert ("a", "href", "../../symptoms/#stalls-coasting") in page.addresses


def test_symptoms_have_sections_in_the_search_index(site: Path) -> None:
    index = (site / "search" / "search_index.json").read_text("utf-8")

    assert "symptoms/#stalls-coasting" in index
    assert "dies at lights" in index
