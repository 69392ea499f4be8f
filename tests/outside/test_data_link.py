"""Data link termination against ngspice, lcapy and the readings of the trade."""
from __future__ import annotations

import pytest

from tests.outside.tools import library, ngspice
from wizard.sums.data_link import termination_ohm, terminators_from_reading
from wizard.sums.forms.data_link import meaning_of_reading


@pytest.mark.parametrize("number", [1, 2, 3, 4])
def test_a_meters_milliampere_reads_what_two_solvers_say(number, tmp_path, compare):
    """Source: ngspice (1 mA between the wires) and lcapy; 120 ohms at each end is ISO 11898-2, from transceiver data sheets."""
    ends = "\n".join(f"R{i} h l 120" for i in range(number))
    volts = ngspice(f"Im 0 h 1m\nRl l 0 1u\n{ends}", ("v(h)-v(l)",), tmp_path)["v(h)-v(l)"]
    circuit = library("lcapy").Circuit("I1 0 h {1/1000}\n" + ends.replace(" h l ", " h 0 ") + "\n")
    exact = abs(float(circuit["h"].V.dc.expr)) * 1000

    compare("termination_ohm", termination_ohm(number, 120), volts / 1e-3, 1e-6, "ngspice")
    compare("termination_ohm", termination_ohm(number, 120), exact, 1e-12, "lcapy")
    compare("terminators_from_reading", terminators_from_reading(volts / 1e-3, 120), number, 1e-6, "ngspice, backwards")


@pytest.mark.parametrize(("ohms", "meaning"), [(0.4, "short"), (30, "low"), (40, "three"), (50, "unsure"), (54, "unsure"), (54.1, "two"),
                                               (60, "two"), (66, "two"), (66.1, "unsure"), (120, "one"), (5000, "none")])
def test_a_reading_means_what_the_trade_says(ohms, meaning):
    """Source: common practice, no source: 60 two, 120 one, 40 three, near zero a short, 54 to 66 counts as right."""
    assert meaning_of_reading(ohms).id == meaning


@pytest.mark.parametrize(("wires", "meaning"), [((5.0, 5.0), "two"), ((0.2, 0.2), "two")])
def test_long_wires_between_the_ends_do_not_change_the_meaning(wires, meaning, tmp_path):
    """Source: ngspice: the far terminator behind wires of some ohms."""
    net = f"Im 0 h 1m\nR1 h 0 120\nRa h x {wires[0]}\nR2 x y 120\nRb y 0 {wires[1]}"
    ohms = ngspice(net, ("v(h)",), tmp_path)["v(h)"] / 1e-3

    assert meaning_of_reading(ohms).id == meaning
