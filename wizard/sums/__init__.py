"""Sums: every number the job needs, each by one documented function with its units, range and sources.

`REGISTRY` maps a name to its `Sum`, whose function is plain arithmetic: it promises a finite number inside the
ranges of its params and nothing outside them. `work_out` is for people: it reads, checks and refuses in words.
"""
from .readers import READERS
from .registry import REGISTRY
from .shapes import Band, Param, Refusal, Result, Sum
from .speed import (pulses_per_km_shaft, pulses_per_km_wheel, speed_number_error_percent,
                    speed_number_error_percent_wheel)
from .tyre import read_tyre_size, tyre_diameter_mm, tyre_revs_per_km
from .work import as_plain, work_out

__all__ = ["READERS", "REGISTRY", "Band", "Param", "Refusal", "Result", "Sum", "as_plain", "pulses_per_km_shaft",
           "pulses_per_km_wheel", "read_tyre_size", "speed_number_error_percent",
           "speed_number_error_percent_wheel", "tyre_diameter_mm", "tyre_revs_per_km", "work_out"]
