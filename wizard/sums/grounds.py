"""Grounds: what the currents of other loads do to a sensor's signal, and what a bad or missing strap does."""
from __future__ import annotations

from .shapes import ARITHMETIC, Band, Param, Source, Sum, make_sum


def ground_lift_v(load_current_a: float, strap_mohm: float) -> float:
    """Return by how many V a current lifts the block (or a ground point) above battery negative.

    Formula: current × resistance / 1000. Range: as the params; no errors inside it. Source: Ohm's law.
    """
    return load_current_a * strap_mohm / 1000.0


def heater_ground_lift_v(voltage_v: float, heaters: float, heater_ohm: float, feed_mohm: float,
                         strap_mohm: float) -> float:
    """Return by how many V oxygen sensor heaters that return through the block lift it.

    Formula: voltage × strap / (feed + heater / number + strap). Range: as the params; no errors inside it.
    Source: Ohm's law, a series circuit.
    """
    strap, feed = strap_mohm / 1000.0, feed_mohm / 1000.0
    return voltage_v * strap / (feed + heater_ohm / heaters + strap)


def sensor_reading_v(reference_v: float, upper_ohm: float, lower_ohm: float, input_ohm: float,
                     return_mohm: float, return_lift_v: float) -> float:
    """Return the voltage in V the controller reads from a divider sensor, against its own ground.

    Formula: (reference / upper + lift / (lower + return)) / (1 / upper + 1 / (lower + return) + 1 / input).
    Range: as the params; no errors inside it. Source: node equation (Kirchhoff). `return_lift_v` is how far the
    far end of the sensor's return is above the controller's ground: 0 with a return wire of its own.
    """
    below = lower_ohm + return_mohm / 1000.0
    return (reference_v / upper_ohm + return_lift_v / below) / (1.0 / upper_ohm + 1.0 / below + 1.0 / input_ohm)


def case_return_error_v(load_current_a: float, strap_mohm: float, upper_ohm: float, lower_ohm: float,
                        input_ohm: float) -> float:
    """Return by how many V other loads shift the signal of a sensor that returns through the block.

    Formula: current × strap × (1 / (lower + strap)) / (1 / upper + 1 / (lower + strap) + 1 / input); what the
    sensor's own current adds is left out (under 0.1 % of it). Range: as the params; no errors inside it.
    Source: superposition of the node equation.
    """
    return sensor_reading_v(0.0, upper_ohm, lower_ohm, input_ohm, strap_mohm, ground_lift_v(load_current_a, strap_mohm))


def own_return_error_v(sensor_current_ma: float, return_mohm: float) -> float:
    """Return by how many V the sensor's own current lifts the far end of its own return wire: the most it errs.

    Formula: current × resistance. Range: as the params; no errors inside it. Source: Ohm's law.
    """
    return sensor_current_ma * return_mohm / 1e6


def stray_current_a(load_current_a: float, strap_mohm: float, stray_mohm: float) -> float:
    """Return the current in A that takes another way (throttle cable, bearings, sensor wires) past a bad strap.

    Formula: current × strap / (strap + stray path). A missing strap is one of a million milliohms.
    Range: as the params; no errors inside it. Source: current divider.
    """
    return load_current_a * strap_mohm / (strap_mohm + stray_mohm)


def lift_with_stray_path_v(load_current_a: float, strap_mohm: float, stray_mohm: float) -> float:
    """Return by how many V the block is lifted when strap and stray path share the current.

    Formula: current × strap × stray / (strap + stray). Range: as the params; no errors inside it.
    Source: two resistances side by side.
    """
    return load_current_a * strap_mohm * stray_mohm / (strap_mohm + stray_mohm) / 1000.0


def largest_strap_mohm(load_current_a: float, allowed_v: float) -> float:
    """Return the largest resistance in milliohms that keeps the loss in a strap within what is allowed.

    Formula: 1000 × allowed / current. Range: as the params; no errors inside it. Source: Ohm's law.
    """
    return 1000.0 * allowed_v / load_current_a


_LOAD = Param("load_current_a", "Current of other loads through the strap", "A", 0, 1500,
              measure="Measure with a clamp for direct current on the strap.", usual=40)
_STRAP = Param("strap_mohm", "Resistance of the strap and its joints", "mΩ", 0.05, 1e6,
               measure="Divide the voltage over it by the current through it; a missing strap is 1 000 000.", usual=5)
_UPPER = Param("upper_ohm", "Resistance from reference to signal", "Ω", 50, 1e6,
               measure="Ask for the circuit; 1000 is a middling value.", usual=1000)
_LOWER = Param("lower_ohm", "Resistance from signal to return", "Ω", 50, 1e6,
               measure="Ohmmeter on the unplugged sensor.", usual=1000, falls=True)
_INPUT = Param("input_ohm", "Resistance of the controller's input", "Ω", 1000, 1e7,
               measure="Ask for the controller's data; 100 000 is common.", usual=100000)
_STRAY = Param("stray_mohm", "Resistance of the other way", "mΩ", 1, 1e6,
               measure="Unknown as a rule: try 50 and 500.", usual=100, falls=True)
_RETURN = Param("return_mohm", "Resistance of the sensor's return", "mΩ", 0, 1e6,
                measure="Ohmmeter with its own lead resistance taken off.", usual=100, falls=None)
_READING = (Param("reference_v", "Reference voltage", "V", 1, 15, measure="Measure at the sensor plug.", usual=5),
            _UPPER._replace(falls=None), _LOWER._replace(falls=None), _INPUT, _RETURN,
            Param("return_lift_v", "Lift of the return's far end", "V", 0, 15,
                  measure="Meter from there to the controller's ground, loads on; 0 with its own wire.", usual=0))
_HEATERS = (Param("voltage_v", "Supply voltage", "V", 8, 16, measure="Measure running.", usual=13.8),
            Param("heaters", "Number of heaters", "heaters", 1, 8, True, "Count the heated sensors.", 4),
            Param("heater_ohm", "Resistance of one heater", "Ω", 1, 30, measure="Ohmmeter on the cold, unplugged sensor.",
                  usual=3, falls=True),
            Param("feed_mohm", "Resistance of the feed", "mΩ", 0, 500, measure="Work it out from wire and length.",
                  usual=40, falls=True), _STRAP._replace(high=1000))
_SENSOR: Source = ("common-practice", "At most 0.1 V between a sensor's ground and the controller's.")
_SENSOR_BAND = Band(None, 0.1, "The trade allows 0.1 V in a sensor's ground.", _SENSOR)
_CRANK_BAND = Band(None, 0.2, "The trade allows 0.2 V between block and battery negative while cranking, and 0.1 V "
                              "at a controller's ground while running.",
                   ("common-practice", "0.2 V cranking, 0.1 V running."))

SUMS: tuple[Sum, ...] = (
    make_sum("grounds", ground_lift_v, "Lift of the block or a ground point", (_LOAD, _STRAP._replace(high=1000)), "V",
             "current × milliohms ÷ 1000", (ARITHMETIC,), 0.0, 3, _CRANK_BAND),
    make_sum("grounds", heater_ground_lift_v, "Lift of the block by sensor heaters", _HEATERS, "V",
             "volts × strap ÷ (feed + heater ÷ number + strap)", (ARITHMETIC,), 0.0, 3, _SENSOR_BAND),
    make_sum("grounds", case_return_error_v, "Signal shift of a sensor that returns through the block",
             (_LOAD, _STRAP._replace(high=1000), _UPPER, _LOWER, _INPUT), "V",
             "current × strap × g ÷ (1 ÷ upper + g + 1 ÷ input), g = 1 ÷ (lower + strap)", (ARITHMETIC,), 0.0, 3, _SENSOR_BAND),
    make_sum("grounds", own_return_error_v, "Signal shift of a sensor with its own return wire",
             (Param("sensor_current_ma", "Current of the sensor", "mA", 0.01, 100,
                    measure="Reference voltage over the sensor's resistance.", usual=2.5),
              _RETURN._replace(high=100000, falls=False)), "V", "milliamperes × milliohms ÷ 1 000 000", (ARITHMETIC,), 0.0, 3,
             _SENSOR_BAND),
    make_sum("grounds", sensor_reading_v, "What the controller reads from a sensor", _READING, "V",
             "(reference ÷ upper + lift × g) ÷ (1 ÷ upper + g + 1 ÷ input), g = 1 ÷ (lower + return)", (ARITHMETIC,), 0.0, 4),
    make_sum("grounds", stray_current_a, "Current that goes round a bad or missing strap", (_LOAD, _STRAP, _STRAY), "A",
             "current × strap ÷ (strap + other way)", (ARITHMETIC,), 0.0, 3,
             notes=("It burns throttle cables and bearings, and kills sensor wires.",)),
    make_sum("grounds", lift_with_stray_path_v, "Lift of the block with a bad or missing strap",
             (_LOAD, _STRAP, _STRAY._replace(falls=False)), "V", "current × strap × other way ÷ (strap + other way) ÷ 1000",
             (ARITHMETIC,), 0.0, 3, _CRANK_BAND),
    make_sum("grounds", largest_strap_mohm, "Largest resistance of a ground strap",
             (_LOAD._replace(low=1, usual=300, falls=True),
              Param("allowed_v", "Allowed loss", "V", 0.01, 1, measure="0.2 while cranking, 0.1 while running.", usual=0.2)),
             "mΩ", "1000 × allowed ÷ current", (ARITHMETIC,), 0.0, 3),
)
