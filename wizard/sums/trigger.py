"""Trigger wheels and tachometers: signal frequency, what a wrong tooth count shows, and what to convert."""
from __future__ import annotations

from .gearing import ENGINE_RPM
from .shapes import ARITHMETIC, Band, Param, Sum, make_sum


def trigger_frequency_hz(edges_per_turn: float, engine_rpm: float) -> float:
    """Return the mean frequency in Hz of a target's signal. Formula: edges per turn × rpm / 60. Source: arithmetic.

    Range: as the params; no errors inside it. Between neighbouring teeth of a wheel with a gap it is higher.
    """
    return edges_per_turn * engine_rpm / 60.0


def tooth_frequency_hz(pitch_teeth: float, engine_rpm: float) -> float:
    """Return the frequency in Hz between neighbouring teeth; missing teeth count as if they were there.

    Formula: teeth of the full circle × rpm / 60. Range: as the params; no errors inside it. Source: arithmetic.
    """
    return pitch_teeth * engine_rpm / 60.0


def engine_speed_seen_rpm(engine_rpm: float, teeth_present: float, teeth_expected: float) -> float:
    """Return the engine speed in rpm that a reader works out which only counts teeth, with a wrong target.

    Formula: rpm × teeth present / teeth expected. Range: as the params; no errors inside it. Source: arithmetic.
    A controller that looks for a gap finds no pattern and shows nothing.
    """
    return engine_rpm * teeth_present / teeth_expected


def tachometer_pulses_per_rev(cylinders: float, strokes: float) -> float:
    """Return ignition pulses per turn of the crank: one per cylinder in each cycle.

    Formula: 2 × cylinders / strokes. Range: as the params; no errors inside it. Source: arithmetic.
    """
    return 2.0 * cylinders / strokes


def tachometer_shown_rpm(engine_rpm: float, pulses_sent: float, pulses_expected: float) -> float:
    """Return what a tachometer shows in rpm. Formula: rpm × pulses sent / pulses expected. Source: arithmetic.

    Range: as the params; no errors inside it.
    """
    return engine_rpm * pulses_sent / pulses_expected


def tachometer_converter_ratio(pulses_expected: float, pulses_sent: float) -> float:
    """Return pulses out for each pulse in that a converter must give. Formula: expected / sent. Source: arithmetic.

    Range: as the params; no errors inside it. Set the controller's output instead where it can be set.
    """
    return pulses_expected / pulses_sent


_EDGES = Param("edges_per_turn", "Edges per turn", "edges", 1, 400, True,
               "Count the teeth that are there; 58 for sixty less two.", 58)
_PITCH = Param("pitch_teeth", "Teeth of the full circle", "teeth", 1, 400, True,
               "Count the teeth as if none were missing; 60 for sixty less two.", 60)
_PRESENT = Param("teeth_present", "Teeth on the target", "teeth", 1, 400, True, "Count them through the sensor's hole.", 24)
_EXPECTED = Param("teeth_expected", "Teeth the reader expects", "teeth", 1, 400, True,
                  "Ask whoever supplies the reader.", 58, falls=True)
_SENT = Param("pulses_sent", "Pulses sent per turn", "pulses", 0.5, 60, measure="Read it from the calibration sheet.", usual=2)
_WANTED = Param("pulses_expected", "Pulses expected per turn", "pulses", 0.5, 60,
                measure="Half the cylinders the tachometer was made for.", usual=4, falls=True)
_STROKES = Param("strokes", "Strokes in a cycle", "strokes", 2, 4, True, "4 for nearly all.", 4, falls=True)

SUMS: tuple[Sum, ...] = (
    make_sum("trigger", trigger_frequency_hz, "Mean frequency of a trigger wheel", (_EDGES, ENGINE_RPM), "Hz",
             "edges per turn × rpm ÷ 60", (ARITHMETIC,)),
    make_sum("trigger", tooth_frequency_hz, "Frequency between neighbouring teeth", (_PITCH, ENGINE_RPM), "Hz",
             "teeth of the full circle × rpm ÷ 60", (ARITHMETIC,)),
    make_sum("trigger", engine_speed_seen_rpm, "Engine speed seen with a wrong target", (ENGINE_RPM, _PRESENT, _EXPECTED),
             "rpm", "rpm × teeth present ÷ teeth expected", (ARITHMETIC,),
             notes=("A controller that looks for a gap finds no pattern and shows nothing.",)),
    make_sum("trigger", tachometer_pulses_per_rev, "Tachometer pulses per turn of the crank",
             (Param("cylinders", "Cylinders", "cylinders", 1, 16, True, "Count them.", 8), _STROKES), "pulses/turn",
             "2 × cylinders ÷ strokes", (ARITHMETIC,)),
    make_sum("trigger", tachometer_shown_rpm, "What the tachometer shows", (ENGINE_RPM, _SENT, _WANTED), "rpm",
             "rpm × pulses sent ÷ pulses expected", (ARITHMETIC,)),
    make_sum("trigger", tachometer_converter_ratio, "Converter for a tachometer", (_WANTED._replace(falls=False),
             _SENT._replace(falls=True)), "out per in", "expected ÷ sent", (ARITHMETIC,), 0.0, 4,
             Band(1.0, 1.0, "1 needs nothing; else set the controller's output, or fit a converter.", ARITHMETIC)),
)
