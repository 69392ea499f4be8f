"""Speedometer: what is asked, said and cited of its sums."""
from __future__ import annotations

from ..speedometer import (highest_allowed_reading_km_h, speed_shown_km_h, speed_shown_percent,
                           speed_shown_percent_wheel, speedometer_margin_km_h)
from .shapes import ARITHMETIC, Band, Source, Sum, make_sum
from .speed import AXLE, PROGRAMMED, SPEED, TEETH
from .tyre import CARS, DIAMETER, ROLLING, TURNS

REG_39: Source = ("published", "UN Regulation No 39, 5.3: 0 ≤ shown - true ≤ true ÷ 10 + 4 km/h (public copies read).")
LOCAL = ("Rules differ by place and by age of vehicle: ask the inspecting authority where it will be used.",)

_TRUE = SPEED._replace(name="true_km_h", title="True speed", measure="Read it from a satellite receiver, steady, flat road.")
_SHOWN = SPEED._replace(name="shown_km_h", title="Speed shown", measure="Read the speedometer, passenger reading.")
_NEVER = Band(100.0, None, "It must not show too little where local rules follow UN Regulation No 39.", REG_39)
_TYRE = (ARITHMETIC, ROLLING, CARS)

SUMS: tuple[Sum, ...] = (
    make_sum("speedometer", speed_shown_percent, "Speed shown over true speed, shaft sensor",
             (PROGRAMMED._replace(falls=True), TEETH, AXLE, DIAMETER), "%",
             f"100 × teeth × axle ratio × turns per km ÷ programmed; {TURNS}", _TYRE, 0.03, 4, _NEVER, LOCAL),
    make_sum("speedometer", speed_shown_percent_wheel, "Speed shown over true speed, wheel sensor",
             (PROGRAMMED._replace(falls=True, usual=19400), TEETH, DIAMETER), "%", f"100 × teeth × turns per km ÷ programmed; {TURNS}",
             _TYRE, 0.03, 4, _NEVER, LOCAL),
    make_sum("speedometer", speed_shown_km_h, "Speed shown at a true speed",
             (_TRUE, PROGRAMMED._replace(name="sent_per_km", title="Pulses sent per kilometre"),
              PROGRAMMED._replace(falls=True)), "km/h", "true × sent ÷ programmed", (ARITHMETIC,), notes=LOCAL),
    make_sum("speedometer", highest_allowed_reading_km_h, "Highest reading the regulation allows",
             (_TRUE._replace(low=40, high=120),), "km/h", "1.1 × true + 4", (REG_39,), 0.0, 4,
             notes=("The lowest reading allowed is the true speed.", *LOCAL)),
    make_sum("speedometer", speedometer_margin_km_h, "How much a speedometer shows above the truth", (_SHOWN, _TRUE._replace(falls=True)),
             "km/h", "shown - true", (ARITHMETIC,), 0.0, 3,
             Band(0.0, None, "It must not show too little where local rules follow UN Regulation No 39.", REG_39), LOCAL),
)
