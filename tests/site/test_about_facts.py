"""The page about the facts counts what is there, and names every subject that a rule answers."""

from __future__ import annotations

from build_tools.statements import by_weakest
from build_tools.pages.text import number
from tests.site.building import real_book
from tests.site.reading import ReadPage, one_line

PAGE = "about-facts/index.html"


def test_the_opening_counts_common_practice_and_memory_truthfully(pages: dict[str, ReadPage]) -> None:
    found = by_weakest(real_book())
    real = sum(count for kind, count in found.items() if kind != "invented")
    weak = found["common-practice"] + found["from-memory"]

    assert weak == real
    assert one_line(f"All of the {number(real)} statements about the trade on this site are common practice ({number(found['common-practice'])}) "
                    f"or from memory ({number(found['from-memory'])})") in pages[PAGE].text


def test_every_subject_with_a_rule_is_named_and_no_other_list_of_gaps_is_kept_by_hand(pages: dict[str, ReadPage]) -> None:
    book = real_book()
    covered = pages[PAGE].text.partition("Subjects that are covered")[2].partition("Not covered")[0]
    missing = [subject["title"] for name, subject in book["subjects"].items()
               if any(rule["subject"] == name for rule in book["rules"].values()) and subject["title"] not in covered]

    assert len(book["subjects"]) > 100
    assert missing == []
    assert "Not covered at all yet" not in pages[PAGE].text
