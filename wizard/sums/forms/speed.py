"""The vehicle speed signal: what is asked, said and cited of its sums."""
from __future__ import annotations

from ..speed import (highest_countable_speed_km_h, lowest_readable_speed_km_h, pulses_per_km_before_transfer,
                     pulses_per_km_cable, pulses_per_km_measured, pulses_per_km_shaft, pulses_per_km_wheel,
                     signal_ratio, speed_error_after_change_percent, speed_number_error_percent,
                     speed_number_error_percent_cable, speed_number_error_percent_counted,
                     speed_number_error_percent_wheel, speed_signal_hz)
from .shapes import ARITHMETIC, Param, Sum, make_sum
from .tyre import CARS, DIAMETER, ROLLING, TURNS

_RISING_DIAMETER = DIAMETER._replace(falls=False)
TEETH = Param("teeth", "Pulses per turn of the target", "pulses", 1, 300, True,
              "Count the teeth, or turn the target by hand once and count the pulses.", 40)
AXLE = Param("axle_ratio", "Axle ratio", "to 1", 2.0, 8.0,
             measure="Read the tag on the axle; or, on stands with the other wheels chocked, turn both driven wheels once "
                     "together and count the turns of the propshaft.",
             usual=3.42)
TRANSFER = Param("transfer_ratio", "Transfer case ratio in use", "to 1", 0.5, 6.0,
                 measure="Turn the input of the transfer case and count turns of input for ten turns of output.",
                 usual=1.0)
PROGRAMMED = Param("programmed_per_km", "Programmed pulses per kilometre", "pulses/km", 100, 500000,
                   measure="Read it from the calibration sheet, or ask whoever loaded the calibration.", usual=64000)
PULSES = Param("pulses_per_km", "Pulses per kilometre", "pulses/km", 100, 500000,
               measure="Work it out from teeth, ratio and tyre, or count pulses over a measured road.", usual=64000)
SPEED = Param("speed_km_h", "Road speed", "km/h", 1, 400, measure="Choose the speed of interest.", usual=100)

_TYRE = (ARITHMETIC, ROLLING, CARS)
_WHERE = ("A sensor on the gearbox output and one on the propshaft turn alike; behind a transfer case the range "
          "does not matter, ahead of it it does.")
_AXLES = (AXLE._replace(name="old_axle_ratio", title="Axle ratio before", falls=True),
          AXLE._replace(name="new_axle_ratio", title="Axle ratio now"),
          _RISING_DIAMETER._replace(name="old_diameter_mm", title="Tyre diameter before"),
          DIAMETER._replace(name="new_diameter_mm", title="Tyre diameter now"))
_COUNT = Param("pulses", "Pulses counted", "pulses", 10, 1e7, True, "Count with a meter that a passenger reads.", 64400)
_ROAD = Param("distance_m", "Distance driven", "m", 10, 20000,
              measure="Drive between two posts whose distance is known.", usual=1000, falls=True)
_CABLE = (Param("cable_turns_per_km", "Turns of the speedometer cable per kilometre", "turns/km", 200, 2000,
                measure="Push the vehicle one wheel turn and count the turns of the cable.", usual=621.4),
          Param("pulses_per_turn", "Pulses per turn of the cable", "pulses", 1, 64, True,
                "Turn the sender once by hand and count.", 8))
_LIMIT = Param("frequency_limit_hz", "Highest frequency counted", "Hz", 50, 50000,
               measure="Ask whoever supplies the controller or the speedometer.", usual=4000)
_WEAK = (Param("threshold_v", "Voltage the input needs", "V", 0.01, 5, measure="Ask for the threshold of the input.",
               usual=0.3),
         Param("amplitude_v", "Peak voltage of the sensor at a known speed", "V", 0.01, 200,
               measure="Measure with a scope at a steady speed, sensor connected.", usual=2.0, falls=True),
         Param("at_speed_km_h", "Speed at which that was measured", "km/h", 1, 200,
               measure="Read it from a satellite receiver.", usual=20))

SUMS: tuple[Sum, ...] = (
    make_sum("speed", pulses_per_km_shaft, "Speed pulses per kilometre, gearbox output or propshaft",
             (TEETH, AXLE, DIAMETER), "pulses/km", f"teeth × axle ratio × turns per km; {TURNS}", _TYRE, 0.03,
             notes=(_WHERE,)),
    make_sum("speed", pulses_per_km_wheel, "Speed pulses per kilometre, wheel hub", (TEETH, DIAMETER), "pulses/km",
             f"teeth × turns per km; {TURNS}", _TYRE, 0.03,
             notes=("One wheel reads wrong in bends. Never splice into the sensor of a working brake system.",)),
    make_sum("speed", pulses_per_km_before_transfer, "Speed pulses per kilometre, ahead of a transfer case",
             (TEETH, TRANSFER, AXLE, DIAMETER), "pulses/km",
             f"teeth × transfer ratio × axle ratio × turns per km; {TURNS}", _TYRE, 0.03, notes=(_WHERE,)),
    make_sum("speed", pulses_per_km_cable, "Speed pulses per kilometre, sender in the cable", _CABLE, "pulses/km",
             "cable turns per km × pulses per turn",
             (ARITHMETIC, ("from-memory", "SAE J678: 1000 cable turns per mile is the common nominal."))),
    make_sum("speed", pulses_per_km_measured, "Speed pulses per kilometre, measured road", (_COUNT, _ROAD),
             "pulses/km", "1000 × pulses ÷ distance in m", (ARITHMETIC,)),
    make_sum("speed", speed_signal_hz, "Frequency of the speed signal", (PULSES, SPEED), "Hz",
             "pulses per km × km/h ÷ 3600", (ARITHMETIC,)),
    make_sum("speed", highest_countable_speed_km_h, "Speed at which the input stops counting",
             (PULSES._replace(falls=True), _LIMIT), "km/h", "3600 × highest frequency ÷ pulses per km", (ARITHMETIC,)),
    make_sum("speed", lowest_readable_speed_km_h, "Lowest speed a variable-reluctance sensor can show", _WEAK, "km/h",
             "speed measured at × threshold ÷ amplitude",
             (("common-practice", "The voltage of a coil sensor grows in proportion to speed at a fixed gap."),), 0.2, 2,
             notes=("The gap matters as much as the speed: measure with the gap that will be used.",)),
    make_sum("speed", speed_number_error_percent, "Speed error with the programmed number, shaft sensor",
             (PROGRAMMED._replace(falls=True), TEETH, AXLE, DIAMETER), "%",
             f"100 × (teeth × axle ratio × turns per km ÷ programmed - 1); {TURNS}", _TYRE, 0.0, 3,
             notes=("Above zero the speed shown is too high. The tyre alone may be off by 3 points.",), spread=3.0),
    make_sum("speed", speed_number_error_percent_wheel, "Speed error with the programmed number, wheel sensor",
             (PROGRAMMED._replace(falls=True, usual=19400), TEETH, DIAMETER), "%",
             f"100 × (teeth × turns per km ÷ programmed - 1); {TURNS}", _TYRE, 0.0, 3,
             notes=("Above zero the speed shown is too high. The tyre alone may be off by 3 points.",), spread=3.0),
    make_sum("speed", speed_number_error_percent_cable, "Speed error with the programmed number, sender in the cable",
             (PROGRAMMED._replace(falls=True, usual=10000), *_CABLE), "%",
             "100 × (cable turns per km × pulses per turn ÷ programmed - 1)", (ARITHMETIC,), 0.0, 3,
             notes=("Above zero the speed shown is too high.",)),
    make_sum("speed", speed_number_error_percent_counted, "Speed error with the programmed number, counted pulses",
             (PROGRAMMED._replace(falls=True), PULSES), "%", "100 × (pulses counted per km ÷ programmed - 1)",
             (ARITHMETIC,), 0.0, 3, notes=("Above zero the speed shown is too high.",)),
    make_sum("speed", speed_error_after_change_percent, "Speed error after a change of tyre or axle", _AXLES, "%",
             "100 × (new axle ÷ old axle × old diameter ÷ new diameter - 1)", (ARITHMETIC,), 0.0, 3,
             notes=("Above zero the speed shown is too high.",)),
    make_sum("speed", signal_ratio, "Divider or multiplier between sensor and reader",
             (PULSES._replace(name="wanted_per_km", title="Pulses per kilometre wanted"),
              PULSES._replace(name="available_per_km", title="Pulses per kilometre available", falls=True)),
             "out per in", "wanted ÷ available", (ARITHMETIC,),
             notes=("Under 1: a divider. Over 1: a multiplier, or better a target with more teeth.",)),
)
