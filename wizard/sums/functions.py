"""Every function of the sums by its name, for the engine, which takes ranges, words and rounding from the facts."""
from __future__ import annotations

from typing import Any, Callable, Mapping

from . import (air, charging, cooling, copper, data_link, fit, fuel, fuel_supply, gearing, grounds, injector, speed,
               speedometer, throttle, trigger, tyre, wire)

SUBJECTS: tuple[Any, ...] = (air, charging, cooling, copper, data_link, fit, fuel, fuel_supply, gearing, grounds, injector,
                             speed, speedometer, throttle, trigger, tyre, wire)
FUNCTIONS: Mapping[str, Callable[..., float]] = {
    name: thing for subject in SUBJECTS for name, thing in vars(subject).items() if callable(thing) and name[0] != "_"}
