"""Grounds: what is asked, said and cited of its sums."""
from __future__ import annotations

from ..grounds import (case_return_error_v, ground_lift_v, heater_ground_lift_v, largest_strap_mohm,
                       lift_with_stray_path_v, own_return_error_v, sensor_reading_v, stray_current_a)
from .shapes import ARITHMETIC, Band, Param, Source, Sum, make_sum

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
             "volts × strap ÷ (feed + 1000 × heater ÷ number + strap)", (ARITHMETIC,), 0.0, 3, _SENSOR_BAND),
    make_sum("grounds", case_return_error_v, "Signal shift of a sensor that returns through the block",
             (_LOAD, _STRAP._replace(high=1000), _UPPER, _LOWER, _INPUT), "V",
             "current × strap ÷ 1000 × g ÷ (1 ÷ upper + g + 1 ÷ input), g = 1 ÷ (lower + strap ÷ 1000)", (ARITHMETIC,), 0.0, 3, _SENSOR_BAND),
    make_sum("grounds", own_return_error_v, "Signal shift of a sensor with its own return wire",
             (Param("sensor_current_ma", "Current of the sensor", "mA", 0.01, 100,
                    measure="Reference voltage over the sensor's resistance.", usual=2.5),
              _RETURN._replace(high=100000, falls=False)), "V", "milliamperes × milliohms ÷ 1 000 000", (ARITHMETIC,), 0.0, 3,
             _SENSOR_BAND),
    make_sum("grounds", sensor_reading_v, "What the controller reads from a sensor", _READING, "V",
             "(reference ÷ upper + lift × g) ÷ (1 ÷ upper + g + 1 ÷ input), g = 1 ÷ (lower + return ÷ 1000)", (ARITHMETIC,), 0.0, 4),
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
