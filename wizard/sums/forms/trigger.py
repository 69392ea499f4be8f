"""Trigger wheels and tachometers: what is asked, said and cited of their sums."""
from __future__ import annotations

from ..trigger import (engine_speed_seen_rpm, tachometer_converter_ratio, tachometer_pulses_per_rev,
                       tachometer_shown_rpm, tooth_frequency_hz, trigger_frequency_hz)
from .gearing import ENGINE_RPM
from .shapes import ARITHMETIC, Band, Param, Sum, make_sum

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
