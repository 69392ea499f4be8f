"""Gearing: what is asked, said and cited of its sums."""
from __future__ import annotations

from ..gearing import engine_speed_from_turns_rpm, engine_speed_rpm, road_speed_km_h
from .shapes import ARITHMETIC, Param, Sum, make_sum
from .speed import AXLE, SPEED
from .tyre import CARS, DIAMETER, ROLLING, TURNS

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
             f"km/h × turns per km × gear × axle ÷ 60 ÷ (1 - slip ÷ 100); {TURNS}",
             _TYRE, 0.03),
    make_sum("gearing", engine_speed_from_turns_rpm, "Engine speed at a road speed, wheel turns measured",
             (SPEED, GEAR, AXLE, _TURNS, SLIP), "rpm",
             "km/h × turns per km × gear × axle ÷ 60 ÷ (1 - slip ÷ 100)", (ARITHMETIC,)),
    make_sum("gearing", road_speed_km_h, "Road speed in a gear",
             (ENGINE_RPM, GEAR._replace(falls=True), AXLE._replace(falls=True), DIAMETER._replace(falls=False),
              SLIP._replace(falls=True)), "km/h",
             f"60 × rpm × (1 - slip ÷ 100) ÷ (gear × axle × turns per km); {TURNS}", _TYRE, 0.03,
             notes=("What gearing allows. Whether the engine has the power for it is another question.",)),
)
