"""Fit by size against units."""
from __future__ import annotations

import pytest

from tests.outside.tools import units
from wizard.sums.fit import ring_margin_mm, throttle_step_mm


@pytest.mark.parametrize(("bore", "opening"), [(75, "72 mm"), (75, "2.95 inch"), (70, "3 inch")])
def test_the_step_is_the_difference_of_the_two_bores(bore, opening, compare):
    """Source: GNU units."""
    ours = throttle_step_mm(bore, units(opening, "mm"))

    compare("throttle_step_mm", ours, units(f"{bore} mm - {opening}", "mm"), 1e-9, "GNU units", floor=1)


@pytest.mark.parametrize(("width", "face", "travel"), [("40 mm", "8 mm", "30 mm"), ("1.5 inch", "0.375 inch", "1.25 inch")])
def test_the_rings_room_is_what_its_width_has_over_face_travel_and_two_millimetres(width, face, travel, compare):
    """Source: GNU units; the 2 mm are common practice, no source."""
    ours = ring_margin_mm(units(width, "mm"), units(face, "mm"), units(travel, "mm"))

    compare("ring_margin_mm", ours, units(f"{width} - {face} - {travel} - 2 mm", "mm"), 1e-9, "GNU units", floor=1)


@pytest.mark.parametrize(("width", "face", "travel"), [(40, 8, 30), (41, 8, 30), (20, 8, 0)])
def test_a_ring_with_room_covers_the_face_wherever_the_shaft_slides(width, face, travel):
    """Source: geometry stepped in the test: centred at half travel, ring and face overlap over the whole slide."""
    fits = ring_margin_mm(width, face, travel) >= 0
    covered = all(-width / 2 + s + 1 <= -face / 2 and face / 2 <= width / 2 + s - 1
                  for s in (travel * (i / 100 - 0.5) for i in range(101)))

    assert fits == covered
