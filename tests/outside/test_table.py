"""The page of outside checks says what the comparisons found, and is not left behind by them."""
from __future__ import annotations

import re

import pytest

from tests.outside.table import EQUAL, PAGE, WHY, Row, difference, page, title
from wizard.sums.forms import REGISTRY

ROWS = [Row("termination_ohm", "a | b", 2, 0.0), Row("termination_ohm", "c", 1, 3e-4), Row("a_piece", "d", 4, 2e-7)]
REASONS = {("termination_ohm", "c"): "It is rounded.", ("a_piece", "d"): "It is another law."}


@pytest.mark.parametrize(("fraction", "said"), [(0.0, "none"), (9e-10, "none"), (2e-7, "0.2 parts in a million"),
                                                (3e-4, "0.03 %"), (0.144, "14 %")])
def test_a_difference_reads_as_words(fraction, said):
    assert difference(fraction) == said


def test_the_rows_stand_in_the_page_with_their_counts():
    text = page(ROWS, REASONS)

    assert "7 comparisons, 1 of" in text and "3 sources" in text
    assert f"| {title('termination_ohm')} (`termination_ohm`) | a / b | 2 | none |" in text
    assert "| a piece | d | 4 | 0.2 parts in a million |" in text
    assert f"| {title('termination_ohm')} | c | 0.03 % | It is rounded. |" in text


def test_a_difference_needs_its_reason():
    with pytest.raises(KeyError):
        page([Row("termination_ohm", "nobody", 1, 2 * EQUAL)])


def test_the_page_holds_every_sum_and_every_reason():
    text = PAGE.read_text(encoding="utf-8")

    assert [name for name in REGISTRY if f"(`{name}`)" not in text] == []
    assert [why for why in WHY.values() if why not in text] == []
    assert int(re.search(r"^(\d+) comparisons", text, re.MULTILINE)[1]) >= 150
