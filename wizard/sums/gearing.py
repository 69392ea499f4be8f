"""Gearing: engine speed at a road speed, and road speed in a gear, with converter slip as a stated input."""
from __future__ import annotations

from .shapes import ARITHMETIC, Param, Sum, make_sum
from .speed import AXLE, SPEED
from .tyre import DIAMETER, CARS, ROLLING, tyre_revs_per_km


def engine_speed_from_turns_rpm(speed_km_h: float, gear_ratio: float, axle_ratio: float,
                                wheel_turns_per_km: float, slip_percent: float) -> float:
    """Return engine speed in rpm from wheel turns per kilometre that were measured.

    Formula: km/h × turns per km × gear × axle / 60 / (1 - slip / 100). Range: as the params; no errors inside it.
    Source: arithmetic.
    """
    return speed_km_h * wheel_turns_per_km * gear_ratio * axle_ratio / 60.0 / (1.0 - slip_percent / 100.0)


def engine_speed_rpm(speed_km_h: float, gear_ratio: float, axle_ratio: float,
                     diameter_mm: float, slip_percent: float) -> float:
    """Return engine speed in rpm at a road speed in km/h.

    Formula: km/h × turns per km of the loaded tyre × gear × axle / 60 / (1 - slip / 100). Range: as the params;
    no errors inside it. Source: arithmetic; the tyre as in `tyre_revs_per_km`.
    """
    return engine_speed_from_turns_rpm(speed_km_h, gear_ratio, axle_ratio, tyre_revs_per_km(diameter_mm), slip_percent)


def road_speed_km_h(engine_rpm: float, gear_ratio: float, axle_ratio: float,
                    diameter_mm: float, slip_percent: float) -> float:
    """Return road speed in km/h at an engine speed: at the highest engine speed, the top speed that gearing allows.

    Formula: 60 × rpm × (1 - slip / 100) / (gear × axle × turns per km). Range: as the params; no errors inside it.
    Source: arithmetic; the tyre as in `tyre_revs_per_km`.
    """
    return 60.0 * engine_rpm * (1.0 - slip_percent / 100.0) / (gear_ratio * axle_ratio * tyre_revs_per_km(diameter_mm))


GEAR = Param("gear_ratio", "Gear ratio", "to 1", 0.4, 8.0,
             measure="Read it from the data of the gearbox, or count turns of input for ten of output.", usual=1.0)
SLIP = Param("slip_percent", "Converter slip", "%", 0, 60,
             measure="0 for a clutch or a locked converter; else compare engine and gearbox input speed on live data.",
             usual=0)
ENGINE_RPM = Param("engine_rpm", "Engine speed", "rpm", 300, 15000, measure="Choose the speed of interest.", usual=6000)
_TURNS = Param("wheel_turns_per_km", "Wheel turns per kilometre", "turns/km", 200, 900,
               measure="Count turns over a measured road.", usual=484.7)
_TYRE = (ARITHMETIC, ROLLING, CARS)

SUMS: tuple[Sum, ...] = (
    make_sum("gearing", engine_speed_rpm, "Engine speed at a road speed",
             (SPEED, GEAR, AXLE, DIAMETER, SLIP), "rpm",
             "km/h × turns per km × gear × axle ÷ 60 ÷ (1 - slip ÷ 100); turns per km = 1 000 000 ÷ (3.05 × diameter)",
             _TYRE, 0.03),
    make_sum("gearing", engine_speed_from_turns_rpm, "Engine speed at a road speed, wheel turns measured",
             (SPEED, GEAR, AXLE, _TURNS, SLIP), "rpm",
             "km/h × turns per km × gear × axle ÷ 60 ÷ (1 - slip ÷ 100)", (ARITHMETIC,)),
    make_sum("gearing", road_speed_km_h, "Road speed in a gear",
             (ENGINE_RPM, GEAR._replace(falls=True), AXLE._replace(falls=True), DIAMETER._replace(falls=False),
              SLIP._replace(falls=True)), "km/h",
             "60 × rpm × (1 - slip ÷ 100) ÷ (gear × axle × turns per km)", _TYRE, 0.03,
             notes=("What gearing allows. Whether the engine has the power for it is another question.",)),
)
