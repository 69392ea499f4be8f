"""Speedometer: what it shows against the true speed, and the legal habit that it never shows too little."""
from __future__ import annotations

from .shapes import ARITHMETIC, Band, Source, Sum, make_sum
from .speed import AXLE, PROGRAMMED, SPEED, TEETH, pulses_per_km_shaft, pulses_per_km_wheel
from .tyre import DIAMETER, CARS, ROLLING

REG_39: Source = ("published", "UN Regulation No 39, 5.3: 0 ≤ shown - true ≤ true ÷ 10 + 4 km/h (public copies read).")
LOCAL = ("Rules differ by place and by age of vehicle: ask the inspecting authority where it will be used.",)


def speed_shown_percent(programmed_per_km: float, teeth: float, axle_ratio: float, diameter_mm: float) -> float:
    """Return the speed shown in per cent of the true speed (100 is right, below 100 it shows too little), shaft sensor.

    Formula: 100 × pulses sent per km / pulses programmed per km. Range: as the params; no errors inside it.
    Source: arithmetic; the tyre as in `tyre_revs_per_km`.
    """
    return 100.0 * pulses_per_km_shaft(teeth, axle_ratio, diameter_mm) / programmed_per_km


def speed_shown_percent_wheel(programmed_per_km: float, teeth: float, diameter_mm: float) -> float:
    """Return the speed shown in per cent of the true speed, with the sensor at the wheel hub.

    Formula: 100 × pulses sent per km / pulses programmed per km. Range: as the params; no errors inside it.
    Source: arithmetic; the tyre as in `tyre_revs_per_km`.
    """
    return 100.0 * pulses_per_km_wheel(teeth, diameter_mm) / programmed_per_km


def speed_shown_km_h(true_km_h: float, sent_per_km: float, programmed_per_km: float) -> float:
    """Return the speed in km/h that is shown at a true speed.

    Formula: true × pulses sent / pulses programmed. Range: as the params; no errors inside it. Source: arithmetic.
    """
    return true_km_h * sent_per_km / programmed_per_km


def highest_allowed_reading_km_h(true_km_h: float) -> float:
    """Return the highest reading in km/h that the regulation allows at a true speed; the lowest is the true speed.

    Formula: 1.1 × true + 4. Range: 40 to 120 km/h, the regulation's test speeds; no errors inside it.
    Source: UN Regulation No 39, paragraph 5.3, public copies read. Local rules decide.
    """
    return 1.1 * true_km_h + 4.0


def speedometer_margin_km_h(shown_km_h: float, true_km_h: float) -> float:
    """Return by how many km/h a speedometer shows more than the truth (negative: too little).

    Formula: shown - true. Range: as the params; no errors inside it. Source: arithmetic.
    """
    return shown_km_h - true_km_h


_TRUE = SPEED._replace(name="true_km_h", title="True speed", measure="Read it from a satellite receiver, steady, flat road.")
_SHOWN = SPEED._replace(name="shown_km_h", title="Speed shown", measure="Read the speedometer, passenger reading.")
_NEVER = Band(100.0, None, "It must not show too little where local rules follow UN Regulation No 39.", REG_39)
_TYRE = (ARITHMETIC, ROLLING, CARS)

SUMS: tuple[Sum, ...] = (
    make_sum("speedometer", speed_shown_percent, "Speed shown over true speed, shaft sensor",
             (PROGRAMMED._replace(falls=True), TEETH, AXLE, DIAMETER), "%",
             "100 × teeth × axle ratio × turns per km ÷ programmed", _TYRE, 0.03, 4, _NEVER, LOCAL),
    make_sum("speedometer", speed_shown_percent_wheel, "Speed shown over true speed, wheel sensor",
             (PROGRAMMED._replace(falls=True, usual=19400), TEETH, DIAMETER), "%", "100 × teeth × turns per km ÷ programmed",
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
