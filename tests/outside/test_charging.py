"""Charging against units, ngspice and a second circuit solver."""
from __future__ import annotations

import pytest

from tests.outside.tools import library, ngspice, nodal, pint_units, units
from wizard.sums.charging import (alternator_speed_rpm, belt_speed_m_s, charge_balance_a, charge_cable_drop_v,
                                  excitation_current_ma, excitation_resistor_ohm, excitation_resistor_w, load_current_a)
from wizard.sums.copper import stranded_resistance_ohm_km

CLASS_5_25 = 0.780      # IEC 60228, 25 mm², ohms per km at 20 °C (three reprints)


@pytest.mark.parametrize(("crank", "pulley", "rpm"), [(165, 60, 700), (165, 60, 6200), (180, 62, 6200), (150, 56, 6200), (150, 56, 700)])
def test_the_alternator_turns_as_the_belt_in_units_says(crank, pulley, rpm, compare):
    """Source: GNU units (belt speed over the pulley's edge) and pint. Limits of speed are common practice, no source."""
    belt = units(f"pi*{crank} mm*{rpm}/minute", "m/s")
    unit = pint_units()
    theirs = (belt * unit.m / unit.s / (3.141592653589793 * pulley * unit.mm)).to("1/min").magnitude

    compare("belt_speed_m_s", belt_speed_m_s(rpm, crank), belt, 1e-12, "GNU units")
    compare("alternator_speed_rpm", alternator_speed_rpm(rpm, crank, pulley), theirs, 1e-12, "pint, GNU units")


def test_the_load_is_the_sum_of_the_watts_over_the_volts(compare):
    """Source: GNU units: 120, 180, 60, 110 and 300 W at 14 V are 55 A."""
    theirs = units("(120 W + 180 W + 60 W + 110 W + 300 W)/(14 V)", "A")

    compare("load_current_a", load_current_a(770, 14), theirs, 1e-12, "GNU units")
    assert theirs == 55.0


def test_what_is_left_for_the_battery_is_what_the_solver_sends_into_it(tmp_path, compare):
    """Source: ngspice: the alternator as a current of 72 A, the load as 55 A, the battery as a voltage."""
    found = ngspice("Ialt 0 b 72\nIload b 0 55\nVbat b 0 14", ("i(vbat)",), tmp_path)

    compare("charge_balance_a", charge_balance_a(72, 55), found["i(vbat)"], 1e-9, "ngspice")


@pytest.mark.parametrize(("amperes", "metres", "case"), [(100, 3, 1.0), (140, 5.5, 2.5), (60, 1.2, 0.4)])
def test_the_drop_to_the_battery_is_what_two_solvers_find(amperes, metres, case, tmp_path, compare):
    """Source: ngspice and numpy: 14.4 V at the alternator, cable of 25 mm² (IEC 60228 class 5), case strap."""
    cable = CLASS_5_25 * metres / 1000
    found = ngspice(f"Valt plus case 14.4\nRfeed plus bat {cable}\nRstrap case 0 {case / 1000}\nIload bat 0 {amperes}", ("v(bat)", "v(case)"), tmp_path)
    nodes = nodal([("plus", "bat", cable), ("case", "0", case / 1000)], [("bat", "0", amperes)], [("plus", "case", 14.4)])
    ours = charge_cable_drop_v(amperes, metres, 25, case, 20)

    compare("charge_cable_drop_v", ours, 14.4 - found["v(bat)"], 1e-6, "ngspice, IEC 60228 class 5")
    compare("charge_cable_drop_v", ours, 14.4 - nodes["bat"], 1e-9, "nodal solve with numpy")


def test_a_solid_gauge_4_cable_leaves_the_battery_what_ngspice_shows(tmp_path, compare):
    """Source: ngspice: 14.4 V, 100 A, 3 m of gauge 4 by GNU units (0.81517 ohms per km), case strap of 1 milliohm: 14.055 V."""
    ohms = units("3 m/(58 siemens m/mm^2)/circlearea(wiregauge(4)/2)", "ohm")
    found = ngspice(f"Valt plus case 14.4\nRfeed plus bat {ohms}\nRstrap case 0 1m\nIload bat 0 100", ("v(bat)",), tmp_path)
    scale = ohms * 1000 / 3 / stranded_resistance_ohm_km(25, 20)
    ours = 14.4 - charge_cable_drop_v(100, 3 * scale, 25, 1, 20)
    compare("charge_cable_drop_v", ours, found["v(bat)"], 1e-9, "ngspice, gauge 4 by GNU units")

    assert found["v(bat)"] == pytest.approx(14.05545, abs=1e-5)


@pytest.mark.parametrize(("volts", "ohms"), [(12.5, 100), (12.0, 56), (13.8, 220)])
def test_the_lamp_terminals_resistor_carries_and_heats_as_an_exact_solver_says(volts, ohms, compare):
    """Source: lcapy. 50 to 250 mA is from memory; the regulator's data decide."""
    circuit = library("lcapy").Circuit(f"V1 1 0 {{{round(volts * 10)}/10}}\nR1 1 0 {ohms}\n")
    amperes = float(circuit.R1.I.dc.expr)

    compare("excitation_current_ma", excitation_current_ma(volts, ohms), amperes * 1000, 1e-12, "lcapy")
    compare("excitation_resistor_ohm", excitation_resistor_ohm(volts, amperes * 1000), ohms, 1e-12, "lcapy, backwards")
    compare("excitation_resistor_w", excitation_resistor_w(volts, ohms), volts * amperes, 1e-12, "lcapy")
