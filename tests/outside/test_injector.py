"""Injector electrics against ngspice, lcapy and units."""
from __future__ import annotations

import pytest

from tests.outside.tools import library, ngspice, nodal, units
from wizard.sums.injector import ballast_ohm, ballast_power_w, coil_class, injector_current_a, injector_mean_current_a


@pytest.mark.parametrize(("volts", "coil", "series"), [(14.5, 12.0, 0.001), (14.5, 2.3, 6.2), (13.8, 16.2, 0.001), (11.0, 4.7, 5.6)])
def test_the_steady_coil_current_is_that_of_two_circuit_solvers(volts, coil, series, tmp_path, compare):
    """Source: ngspice (with the coil's inductance in the circuit) and a nodal solve with numpy."""
    circuit = f"Vb b 0 {volts}\nRs b m {series}\nRc m n {coil}\nL1 n 0 12m"
    spice = ngspice(circuit, ("i(vb)",), tmp_path)["i(vb)"]
    nodes = nodal([("b", "m", series), ("m", "0", coil)], [], [("b", "0", volts)])
    ours = injector_current_a(volts, coil, series)

    compare("injector_current_a", ours, -spice, 1e-6, "ngspice")
    compare("injector_current_a", ours, nodes["m"] / coil, 1e-9, "nodal solve with numpy")


@pytest.mark.parametrize(("coil", "limit"), [(2.3, 1.5), (4.7, 2.0), (1.2, 1.0)])
def test_with_the_ballast_in_place_the_driver_carries_exactly_its_limit(coil, limit, tmp_path, compare):
    """Source: ngspice, the circuit built with the ballast that the sum gives."""
    ballast = ballast_ohm(14.5, coil, limit)
    found = ngspice(f"Vb b 0 14.5\nRs b m {ballast}\nRc m 0 {coil}", ("i(vb)", "v(b)-v(m)"), tmp_path)
    heat = units(f"{-found['i(vb)']} A*{found['v(b)-v(m)']} V*0.85", "W")

    compare("ballast_ohm", -found["i(vb)"], limit, 1e-6, "ngspice")
    compare("ballast_power_w", ballast_power_w(injector_current_a(14.5, coil, ballast), ballast, 85), heat, 1e-6, "ngspice, GNU units")


def test_a_coil_that_needs_no_ballast_gets_none():
    """Source: Ohm's law."""
    needed = ballast_ohm(14.5, 14.5, 1.5)

    assert needed == 0.0


@pytest.mark.parametrize(("peak", "hold", "peak_ms", "open_ms"), [(4, 1, 1.2, 6), (8, 2, 0.9, 12), (4, 1, 2.0, 1.5)])
def test_a_peak_and_hold_drivers_mean_current_is_that_of_the_sampled_wave(peak, hold, peak_ms, open_ms, compare):
    """Source: numpy mean of the wave sampled 100 000 times while open."""
    numpy = library("numpy")
    times = (numpy.arange(100_000) + 0.5) / 100_000 * open_ms
    theirs = float(numpy.mean(numpy.where(times < peak_ms, peak, hold)))

    compare("injector_mean_current_a", injector_mean_current_a(peak, hold, peak_ms, open_ms), theirs, 1e-4, "sampled wave, numpy")


def test_an_exact_solver_gives_the_same_current(compare):
    """Source: lcapy, exact rationals: 14.5 V over 2.3 and 6.2 ohms."""
    circuit = library("lcapy").Circuit("V1 1 0 {29/2}\nR1 1 2 {31/5}\nR2 2 0 {23/10}\n")
    theirs = float(circuit.R2.I.dc.expr)

    compare("injector_current_a", injector_current_a(14.5, 2.3, 6.2), theirs, 1e-12, "lcapy")


@pytest.mark.parametrize(("ohms", "which"), [(0.9, "undecided"), (1, "low"), (5, "low"), (5.1, "undecided"), (10.9, "undecided"),
                                            (11, "high"), (17, "high"), (17.1, "undecided")])
def test_coils_fall_into_the_bands_of_the_trade(ohms, which):
    """Source: bands from memory: low 1 to 5 ohms, high 11 to 17, between them ask for the driver's limit."""
    assert coil_class(ohms) == which
