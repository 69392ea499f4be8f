"""Grounding circuits against ngspice, a nodal solve with numpy, and lcapy's exact rationals."""
from __future__ import annotations

import pytest

from tests.outside.tools import library, ngspice, nodal, units
from wizard.sums.grounds import (case_return_error_v, ground_lift_v, heater_ground_lift_v, largest_strap_mohm,
                                 lift_with_stray_path_v, own_return_error_v, sensor_reading_v, stray_current_a)

REFERENCE, UPPER, LOWER, INPUT = 5.0, 1000.0, 1000.0, 100000.0
IDEAL = REFERENCE / UPPER / (1 / UPPER + 1 / LOWER + 1 / INPUT)


def case_return(amperes: float, strap: float, upper: float = UPPER, lower: float = LOWER, load: float = INPUT) -> tuple[str, tuple]:
    """The circuit of a sensor that returns through the block, for ngspice and for the nodal solve; strap in ohms."""
    spice = (f"Vbat bat 0 13.8\nRstrap blk 0 {strap}\nIload bat blk {amperes}\nVref vref 0 {REFERENCE}\n"
             f"Rs1 vref sig {upper}\nRs2 sig blk {lower}\nRin sig 0 {load}")
    return spice, ([("blk", "0", strap), ("vref", "sig", upper), ("sig", "blk", lower), ("sig", "0", load)],
                   [("bat", "blk", amperes)], [("bat", "0", 13.8), ("vref", "0", REFERENCE)])


@pytest.mark.parametrize(("amperes", "strap"), [(40, 0.005), (100, 0.002), (12, 0.05), (250, 0.001), (0, 0.005)])
def test_a_sensor_returned_through_the_block_reads_what_two_solvers_say(amperes, strap, tmp_path, compare):
    """Source: ngspice, and modified nodal analysis with numpy. The lift leaves out the sensor's own 2 mA."""
    spice, parts = case_return(amperes, strap)
    found, nodes = ngspice(spice, ("v(sig)", "v(blk)"), tmp_path), nodal(*parts)
    ours = sensor_reading_v(REFERENCE, UPPER, LOWER, INPUT, strap * 1000, ground_lift_v(amperes, strap * 1000))

    compare("sensor_reading_v", ours, found["v(sig)"], 1e-6, "ngspice")
    compare("sensor_reading_v", ours, nodes["sig"], 1e-9, "nodal solve with numpy")
    compare("ground_lift_v", ground_lift_v(amperes, strap * 1000), found["v(blk)"], 3e-4, "ngspice, sensor connected", floor=0.2)


@pytest.mark.parametrize(("amperes", "strap", "upper", "lower", "load"), [
    (40, 0.005, 1e3, 1e3, 1e5), (100, 0.01, 2490, 500, 5e5), (20, 0.02, 1e3, 3e3, 1e5), (150, 0.002, 4700, 220, 1e6)])
def test_the_shift_is_the_difference_of_two_solved_circuits(amperes, strap, upper, lower, load, tmp_path, compare):
    """Source: ngspice, with the load and without it."""
    loaded = ngspice(case_return(amperes, strap, upper, lower, load)[0], ("v(sig)",), tmp_path)["v(sig)"]
    quiet = ngspice(case_return(0, strap, upper, lower, load)[0], ("v(sig)",), tmp_path)["v(sig)"]

    compare("case_return_error_v", case_return_error_v(amperes, strap * 1000, upper, lower, load), loaded - quiet, 1e-5, "ngspice")


def test_forty_amperes_through_five_milliohms_shift_the_signal_by_a_tenth_of_a_volt():
    """Source: the circuit of the first test; with its own return of 100 milliohms the same sensor errs by 0.12 mV."""
    through_block = sensor_reading_v(REFERENCE, UPPER, LOWER, INPUT, 5, 0.2) - IDEAL
    own_wire = sensor_reading_v(REFERENCE, UPPER, LOWER, INPUT, 100, 0) - IDEAL

    assert through_block == pytest.approx(0.0995, abs=0.0002)
    assert own_wire == pytest.approx(0.000124, abs=0.000002)


@pytest.mark.parametrize("ohms", [0.02, 0.1, 1.0])
def test_a_sensor_with_its_own_return_reads_what_two_solvers_say(ohms, tmp_path, compare):
    """Source: ngspice and numpy: the block's current has no path into the sensor's return."""
    circuit = f"Vref vref 0 5\nRs1 vref sig 1k\nRs2 sig sret 1k\nRret sret 0 {ohms}\nRin sig 0 100k\nVbat bat 0 13.8\nIload bat blk 40\nRstrap blk 0 5m"
    found = ngspice(circuit, ("v(sig)", "v(sret)"), tmp_path)
    nodes = nodal([("vref", "sig", 1e3), ("sig", "sret", 1e3), ("sret", "0", ohms), ("sig", "0", 1e5)], [], [("vref", "0", 5)])
    ours = sensor_reading_v(5, 1e3, 1e3, 1e5, ohms * 1000, 0)
    current = (nodes["sig"] - nodes["sret"]) / 1e3 * 1000

    compare("sensor_reading_v", ours, found["v(sig)"], 1e-6, "ngspice")
    compare("sensor_reading_v", ours, nodes["sig"], 1e-9, "nodal solve with numpy")
    compare("own_return_error_v", own_return_error_v(current, ohms * 1000), found["v(sret)"], 1e-5, "ngspice")


@pytest.mark.parametrize(("heaters", "strap"), [(4, 0.010), (2, 0.010), (4, 0.002), (1, 0.050)])
def test_heaters_that_return_through_the_block_lift_it_as_ngspice_says(heaters, strap, tmp_path, compare):
    """Source: ngspice, heaters of 3 ohms, feed of 40 milliohms, with the sensor connected."""
    circuit = (f"Vbat bat 0 13.8\nRfeed bat hp 40m\nRh hp blk {3 / heaters}\nRstrap blk 0 {strap}\nVref vref 0 5\n"
               "Rs1 vref sig 1k\nRs2 sig blk 1k\nRin sig 0 100k")
    found = ngspice(circuit, ("v(blk)", "v(sig)"), tmp_path)
    lift = heater_ground_lift_v(13.8, heaters, 3.0, 40, strap * 1000)

    compare("heater_ground_lift_v", lift, found["v(blk)"], 1e-3, "ngspice, sensor connected")
    compare("sensor_reading_v", sensor_reading_v(5, 1e3, 1e3, 1e5, strap * 1000, lift), found["v(sig)"], 1e-4, "ngspice, heaters on")


def test_an_exact_solver_gives_the_same_fractions(compare):
    """Source: lcapy, exact rationals, four heaters of 3 ohms, feed 40 and strap 10 milliohms."""
    net = "V1 bat 0 {69/5}\nRf bat hp {1/25}\nRh hp blk {3/4}\nRs blk 0 {1/100}\nV2 vref 0 5\nR1 vref sig 1000\nR2 sig blk 1000\nR3 sig 0 100000\n"
    circuit = library("lcapy").Circuit(net)
    block, signal = float(circuit["blk"].V.dc.expr), float(circuit["sig"].V.dc.expr)

    compare("heater_ground_lift_v", heater_ground_lift_v(13.8, 4, 3, 40, 10), block, 3e-4, "lcapy, sensor connected")
    compare("sensor_reading_v", sensor_reading_v(5, 1e3, 1e3, 1e5, 10, heater_ground_lift_v(13.8, 4, 3, 40, 10)), signal, 1e-4, "lcapy, sensor connected")


def test_a_pulsed_heater_lifts_its_drivers_ground_by_its_peak(tmp_path, compare):
    """Source: ngspice with the switch closed: feed 40 mohm, heater 3 ohm, switch 60 mohm, ground wire 8 mohm."""
    found = ngspice("Vbat bat 0 13.8\nRfeed bat hp 40m\nRh hp drv 3\nRsw drv pg 60m\nRpg pg 0 8m", ("v(pg)",), tmp_path)

    compare("heater_ground_lift_v", heater_ground_lift_v(13.8, 1, 3.0, 100, 8), found["v(pg)"], 1e-6, "ngspice")


def test_a_controllers_shared_power_ground_moves_a_block_sensor_the_other_way(tmp_path, compare):
    """Source: ngspice: 8 A through 2 m of gauge 16 (26.349 mohm, GNU units) in the controller's ground; sensor at the block."""
    ohms = units("2 m/(58 siemens m/mm^2)/circlearea(wiregauge(16)/2)", "ohm")
    circuit = f"Vbat bat 0 13.8\nRg ecg 0 {ohms}\nIload bat ecg 8\nVref vref ecg 5\nRs1 vref sig 1k\nRs2 sig 0 1k\nRin sig ecg 100k"
    found = ngspice(circuit, ("v(sig)-v(ecg)", "v(ecg)"), tmp_path)
    lift = ground_lift_v(8, ohms * 1000)

    compare("ground_lift_v", lift, found["v(ecg)"], 1e-3, "ngspice")
    compare("sensor_reading_v", sensor_reading_v(5, 1e3, 1e3, 1e5, 0, -lift), found["v(sig)-v(ecg)"], 1e-4, "ngspice")


@pytest.mark.parametrize(("amperes", "strap", "stray"), [(300, 1e6, 60), (300, 20, 60), (40, 5, 500), (300, 0.5, 60)])
def test_a_bad_or_missing_strap_sends_the_current_round_as_ngspice_says(amperes, strap, stray, tmp_path, compare):
    """Source: ngspice: strap and another way side by side."""
    circuit = f"Vbat bat 0 12\nIload bat blk {amperes}\nRstrap blk 0 {strap / 1000}\nRstray blk 0 {stray / 1000}"
    found = ngspice(circuit, ("v(blk)", "@rstray[i]"), tmp_path)

    compare("lift_with_stray_path_v", lift_with_stray_path_v(amperes, strap, stray), found["v(blk)"], 1e-6, "ngspice")
    compare("stray_current_a", stray_current_a(amperes, strap, stray), found["@rstray[i]"], 1e-6, "ngspice")


@pytest.mark.parametrize(("amperes", "volts"), [(300, 0.2), (100, 0.1)])
def test_a_strap_at_its_limit_loses_just_what_is_allowed(amperes, volts, compare):
    """Source: GNU units; 0.2 V cranking and 0.1 V running are common practice, no source."""
    compare("largest_strap_mohm", largest_strap_mohm(amperes, volts), units(f"{volts} V/({amperes} A)", "milliohm"), 1e-12, "GNU units")
