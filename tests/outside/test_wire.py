"""Wire against GNU units, published wire tables, ngspice, a heat transfer library and a textbook."""
from __future__ import annotations

import math

import pytest

from tests.outside.tools import library, ngspice, units
from wizard.sums.copper import (awg_diameter_mm, awg_section_mm2, nearest_awg, read_wire_size, solid_resistance_ohm_km,
                                stranded_resistance_ohm_km, temperature_factor)
from wizard.sums.wire import (cranking_drop_v, fuse_for_load_a, fuse_share_of_wire_percent, smallest_listed_section_mm2,
                              smallest_section_mm2, wire_current_for_heat_a, wire_drop_v)

GAUGES = [4, 8, 10, 12, 14, 16, 18, 20, 22, 24]
# NBS Handbook 100, Copper Wire Tables (1966), ohms per 1000 ft at 20 °C: a secondary copy (gauge 10 from memory).
NBS = {10: 0.9989, 12: 1.588, 14: 2.525, 16: 4.016, 18: 6.385, 20: 10.15, 22: 16.14, 24: 25.67}
# IEC 60228, largest resistance at 20 °C of plain copper, ohms per km: three reprints that agree
# (mycableengineering.com, etechnik-synergie.com, uecables.com).
CLASS_5 = {0.5: 39.0, 0.75: 26.0, 1: 19.5, 1.5: 13.3, 2.5: 7.98, 4: 4.95, 6: 3.30, 10: 1.91, 16: 1.21, 25: 0.780}
# ISO 6722-1, largest resistance at 20 °C, ohms per km: from memory.
ISO_6722 = {0.5: 37.1, 0.75: 24.7, 1: 18.5, 1.5: 12.7, 2.5: 7.60, 4: 4.71, 6: 3.14, 10: 1.82, 16: 1.16, 25: 0.743}
DROPS = [(10, 4, 16, 20), (15, 5, 14, 20), (20, 3, 12, 85), (8, 4, 18, 20), (30, 2.5, 10, 60)]


@pytest.mark.parametrize("gauge", GAUGES)
def test_a_gauge_has_the_diameter_section_and_resistance_of_gnu_units(gauge, compare):
    """Source: GNU units' wiregauge (ASTM B258) and 58 S m/mm² (IEC 60028), with the source remarks in its data file."""
    section = awg_section_mm2(gauge)

    compare("awg_diameter_mm", awg_diameter_mm(gauge), units(f"wiregauge({gauge})", "mm"), 1e-9, "GNU units wiregauge, ASTM B258")
    compare("awg_section_mm2", section, units(f"circlearea(wiregauge({gauge})/2)", "mm^2"), 1e-9, "GNU units wiregauge, ASTM B258")
    compare("solid_resistance_ohm_km", solid_resistance_ohm_km(section, 20),
            units(f"1 km/(58 siemens m/mm^2)/circlearea(wiregauge({gauge})/2)", "ohm"), 1e-9, "GNU units, IEC 60028")
    compare("nearest_awg", nearest_awg(section), gauge, 1e-12, "GNU units wiregauge, backwards")


@pytest.mark.parametrize("gauge", sorted(NBS))
def test_solid_wire_has_the_resistance_of_the_published_table(gauge, compare):
    """Source: NBS Handbook 100, Copper Wire Tables (1966), a secondary copy of its values."""
    ours = solid_resistance_ohm_km(awg_section_mm2(gauge), 20) * 0.3048

    compare("solid_resistance_ohm_km", ours, NBS[gauge], 0.0005, "NBS Handbook 100 wire table (secondary copy)")


@pytest.mark.parametrize(("text", "gauge"), [("4/0", -3), ("2/0 AWG", -1), ("1/0", 0), ("AWG 16", 16), ("16 gauge", 16)])
def test_a_written_gauge_is_read_as_its_section(text, gauge, compare):
    """Source: GNU units' wiregauge."""
    compare("read_wire_size", read_wire_size(text), units(f"circlearea(wiregauge({gauge})/2)", "mm^2"), 1e-9, "GNU units wiregauge, ASTM B258")


def test_a_textbooks_gauges_agree(compare):
    """Source: A. Beiser, Basic Mathematics for Electricity and Electronics, ch. 5: No 14 is 4106 circular mils, and has
    2.53 times the resistance of No 10; 80 mil, 1500 ft at 10.4 ohms per circular mil foot is 2.4375 ohms."""
    mils = units(f"{awg_section_mm2(14)} mm^2", "circularmil")
    section = units("circlearea(80 mil/2)", "mm^2")
    ours = solid_resistance_ohm_km(section, 20) * units("1500 ft", "km")

    compare("awg_section_mm2", mils, 4106, 0.001, "Beiser, ch. 5")
    compare("solid_resistance_ohm_km", awg_section_mm2(10) / awg_section_mm2(14), 2.53, 0.001, "Beiser, ch. 5")
    compare("solid_resistance_ohm_km", ours, 2.4375, 0.004, "Beiser, ch. 5 (its copper is 0.3 % worse)")


@pytest.mark.parametrize("section", sorted(CLASS_5))
def test_stranded_wire_has_the_largest_resistance_that_the_standard_allows(section, compare):
    """Source: IEC 60228 class 5 by three reprints; ISO 6722-1 from memory must not be above it."""
    ours = stranded_resistance_ohm_km(section, 20)
    compare("stranded_resistance_ohm_km", ours, CLASS_5[section], 1e-9, "IEC 60228 class 5 (three reprints)")
    compare("stranded_resistance_ohm_km", ours, ISO_6722[section], 0.06, "ISO 6722-1, from memory")

    assert ISO_6722[section] <= ours
    assert solid_resistance_ohm_km(section, 20) < ours < 1.16 * solid_resistance_ohm_km(section, 20)


@pytest.mark.parametrize(("celsius", "factor"), [(5, 1.06263), (50, 0.89455), (75, 0.82229), (100, 0.76084)])
def test_warm_copper_follows_the_standards_correction(celsius, factor, compare):
    """Source: IEC 60228 annex, 254.5 / (234.5 + t), formula from memory; it takes resistance back to 20 °C."""
    compare("temperature_factor", 1 / temperature_factor(celsius), 254.5 / (234.5 + celsius), 2e-4, "IEC 60228 correction, from memory")
    assert 254.5 / (234.5 + celsius) == pytest.approx(factor, abs=1e-5)


@pytest.mark.parametrize(("amperes", "length", "gauge", "celsius"), DROPS)
def test_the_drop_both_ways_is_that_of_ngspice(amperes, length, gauge, celsius, tmp_path, compare):
    """Source: ngspice, both conductors as resistors with a temperature coefficient of 0.00393 per K, from GNU units' ohms."""
    per_m = units(f"1 m/(58 siemens m/mm^2)/circlearea(wiregauge({gauge})/2)", "ohm")
    model = ".model cu r(tc1=0.00393 tnom=20)"
    circuit = (f"I1 0 a {amperes}\nRout a b cu {per_m * length} temp={celsius}\nRback b 0 cu {per_m * length} temp={celsius}\n{model}")
    theirs = ngspice(circuit, ("v(a)",), tmp_path)["v(a)"]
    section = awg_section_mm2(gauge)
    solid = amperes * 2 * length / 1000 * solid_resistance_ohm_km(section, celsius)
    compare("solid_resistance_ohm_km", solid, theirs, 1e-6, "ngspice drop of solid copper")

    assert theirs < wire_drop_v(amperes, length, section, celsius) < 1.2 * theirs


@pytest.mark.parametrize("section", [0.5, 1.5, 6, 16])
def test_the_drop_in_listed_wire_is_that_of_ngspice_with_the_standards_ohms(section, tmp_path, compare):
    """Source: ngspice with IEC 60228 class 5 (three reprints), 20 °C, 4 m one way."""
    theirs = ngspice(f"I1 0 a 12\nRo a b {CLASS_5[section] * 0.004}\nRb b 0 {CLASS_5[section] * 0.004}", ("v(a)",), tmp_path)["v(a)"]

    compare("wire_drop_v", wire_drop_v(12, 4, section, 20), theirs, 1e-6, "ngspice, IEC 60228 class 5")


@pytest.mark.parametrize(("amperes", "length", "drop"), [(10, 4, 0.5), (25, 3, 0.5), (5, 1.5, 0.1), (100, 5, 0.5), (2, 0.3, 0.5)])
def test_the_smallest_section_is_where_a_root_finder_puts_it(amperes, length, drop, compare):
    """Source: scipy brentq on the drop itself, and the published table for the listed size."""
    brentq = library("scipy.optimize").brentq
    theirs = brentq(lambda a: wire_drop_v(amperes, length, a, 40) - drop, 0.01, 400)
    listed = next(s for s in (*sorted(CLASS_5), 35, 50, 70, 95, 120) if s >= theirs)

    compare("smallest_section_mm2", smallest_section_mm2(amperes, length, drop, 40), theirs, 1e-9, "scipy brentq")
    compare("smallest_listed_section_mm2", smallest_listed_section_mm2(amperes, length, drop, 40), listed, 0, "IEC 60228 sizes")


@pytest.mark.parametrize(("amperes", "fuse"), [(10, 15), (15, 20), (22, 30), (7.5, 10), (11.25, 15), (11.26, 20)])
def test_the_fuse_is_the_next_rating_over_the_load_by_three_quarters(amperes, fuse, compare):
    """Source: "Fuseology", circuitprotection.ca: at most 75 % of the rating at 25 °C; ratings of ISO 8820 from memory."""
    compare("fuse_for_load_a", fuse_for_load_a(amperes), fuse, 0, "Fuseology guide, ISO 8820 ratings from memory")


def test_a_fuse_as_large_as_the_wire_is_at_a_hundred_per_cent(compare):
    """Source: GNU units."""
    compare("fuse_share_of_wire_percent", fuse_share_of_wire_percent(30, 24), units("30 A/(24 A)", "percent"), 1e-12, "GNU units")


@pytest.mark.parametrize(("section", "outside"), [(0.75, 1.9), (1.5, 2.4), (4, 3.7)])
def test_a_lone_wire_carries_what_convection_and_radiation_take_away(section, outside, compare):
    """Source: ht, free convection of a horizontal cylinder (Churchill-Chu), and radiation with emissivity 0.9; air from
    CoolProp. The sum says up to 20 for a lone wire, and about 10 in a
    loom, which must be on the safe side."""
    ht, air = library("ht"), library("CoolProp.CoolProp").PropsSI
    warm, cool, d = 378.15, 358.15, outside / 1000
    film_k = (warm + cool) / 2
    rho, mu, k, cp = (air(p, "T", film_k, "P", 101325, "Air") for p in ("D", "V", "L", "C"))
    prandtl, grashof = cp * mu / k, 9.80665 / film_k * (warm - cool) * d ** 3 * (rho / mu) ** 2
    film = ht.Nu_horizontal_cylinder_Churchill_Chu(prandtl, grashof) * k / d + 0.9 * 5.670374e-8 * (warm ** 4 - cool ** 4) / (warm - cool)
    ohms_m = stranded_resistance_ohm_km(section, 105) / 1000
    theirs = math.sqrt(film * math.pi * d * (warm - cool) / ohms_m)

    compare("wire_current_for_heat_a", wire_current_for_heat_a(section, outside, 85, 105, 20), theirs, 0.25, "ht, free convection and radiation")

    assert wire_current_for_heat_a(section, outside, 85, 105, 10) < theirs


@pytest.mark.parametrize(("amperes", "metres", "section", "body"), [(250, 5, 25, 1.0), (350, 9, 16, 0.5)])
def test_the_battery_cables_drop_is_that_of_ngspice(amperes, metres, section, body, tmp_path, compare):
    """Source: ngspice with IEC 60228 class 5 (three reprints) at 20 °C."""
    circuit = f"Vb b 0 12.6\nRc b s {CLASS_5[section] * metres / 1000}\nIs s e {amperes}\nRb e 0 {body / 1000}"
    found = ngspice(circuit, ("v(b)-v(s)", "v(e)"), tmp_path)

    compare("cranking_drop_v", cranking_drop_v(amperes, metres, section, body, 20), found["v(b)-v(s)"] + found["v(e)"], 1e-6, "ngspice, IEC 60228 class 5")
