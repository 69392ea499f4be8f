"""Injector electrics: what is asked, said and cited of its sums."""
from __future__ import annotations

from ..injector import ballast_ohm, ballast_power_w, coil_class, injector_current_a, injector_mean_current_a
from .shapes import ARITHMETIC, Band, Param, Source, Sum, make_sum

BANDS: Source = ("from-memory", "High-resistance coils 11 to 17 Ω, low-resistance coils 1 to 5 Ω.")
_COILS = {
    "low": "A coil of 1 to 5 Ω is a low-resistance one: it needs a peak-and-hold driver, or a ballast resistor on a saturated one.",
    "high": "A coil of 11 to 17 Ω is a high-resistance one, as saturated drivers expect.",
    "undecided": "This coil is neither of the usual low-resistance kind nor of the high-resistance one: ask for the driver's current limit.",
}


def what_the_coil_is(voltage_v: float, coil_ohm: float, series_ohm: float) -> str:
    """Return which kind of coil it is and what that asks of the driver, in a sentence."""
    return _COILS[coil_class(coil_ohm)]


VOLTAGE = Param("voltage_v", "Highest supply voltage", "V", 8, 16, measure="Measure running; about 14.5.", usual=14.5)
COIL = Param("coil_ohm", "Coil resistance", "Ω", 0.3, 30,
             measure="Ohmmeter across the terminals, unplugged, near 20 °C.", usual=12, falls=True)
_SERIES = Param("series_ohm", "Ballast in series", "Ω", 0, 30, measure="0 without one; else ohmmeter, unplugged.",
                usual=0, falls=True)
_LIMIT = Param("driver_limit_a", "Current limit of the driver", "A", 0.3, 10, measure="Ask for the driver's data.",
               usual=1.5, falls=True)
_DRIVER = (Param("peak_a", "Peak current", "A", 0.5, 30, measure="Ask for the driver's data.", usual=4),
           Param("hold_a", "Hold current", "A", 0.1, 30, measure="Ask for the driver's data.", usual=1),
           Param("peak_ms", "Time at peak", "ms", 0.1, 5, measure="Read it with a current clamp.", usual=1.2, falls=None),
           Param("open_ms", "Time open", "ms", 0.5, 50, measure="Read the pulse width on live data.", usual=6, falls=None))
_HEAT = (Param("current_a", "Current through the injector", "A", 0.1, 15, measure="Work it out with the ballast in place.",
               usual=1.5),
         _SERIES._replace(low=0.1, falls=False, usual=6),
         Param("duty_percent", "Duty", "%", 1, 100, measure="Use the highest duty.", usual=85))
SATURATED = Band(None, 1.5, "Saturated drivers often carry 1 to 2 A: ask for the limit of yours.",
                 ("from-memory", "1.5 A per injector on a saturated driver."))

SUMS: tuple[Sum, ...] = (
    make_sum("injector electrics", injector_current_a, "Injector current, saturated driver", (VOLTAGE, COIL, _SERIES),
             "A", "volts ÷ (coil + series)", (ARITHMETIC, BANDS), 0.0, 3, SATURATED,
             ("A warm coil has more resistance and draws less.",), tells=what_the_coil_is),
    make_sum("injector electrics", injector_mean_current_a, "Injector current, peak-and-hold driver", _DRIVER, "A",
             "(peak × peak time + hold × rest) ÷ time open; rest = time open - peak time", (ARITHMETIC,), 0.1, 3,
             notes=("The driver sets the current; the coil must be low enough to reach the peak.",)),
    make_sum("injector electrics", ballast_ohm, "Ballast resistor for a low-resistance injector",
             (VOLTAGE, COIL._replace(usual=2), _LIMIT), "Ω", "volts ÷ driver limit - coil, not under 0", (ARITHMETIC, BANDS), 0.0, 3,
             notes=("A ballast slows the opening; the trade disagrees whether short pulses stay good enough.",)),
    make_sum("injector electrics", ballast_power_w, "Heat of a ballast resistor",
             _HEAT, "W", "current² × series × duty ÷ 100", (ARITHMETIC,), 0.0, 3,
             notes=("It gets hot: rate it for at least twice this and keep it off the loom.",)),
)
