"""Every sum by its name, in order of subject."""
from __future__ import annotations

from typing import Mapping

from . import (air, airflow_table, charging, cooling, data_link, fit, fuel, fuel_supply, gearing, grounds, injector, speed,
               speedometer, throttle, trigger, tyre, wire)
from .shapes import Sum

SUBJECTS = (tyre, speed, gearing, air, airflow_table, fuel, fuel_supply, injector, wire, grounds, charging, cooling,
            trigger, data_link, throttle, speedometer, fit)
REGISTRY: Mapping[str, Sum] = {one.name: one for subject in SUBJECTS for one in subject.SUMS}
