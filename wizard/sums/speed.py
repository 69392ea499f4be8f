"""The vehicle speed signal: pulses per kilometre by where the sensor sits, its frequency, and what to program."""
from __future__ import annotations

from .tyre import tyre_revs_per_km


def pulses_per_km_shaft(teeth: float, axle_ratio: float, diameter_mm: float) -> float:
    """Return pulses per kilometre of a sensor on the gearbox output or propshaft (behind any transfer case).

    Formula: teeth × axle ratio × turns per km of the loaded tyre. Range: as the params; no errors inside it.
    Source: arithmetic; the tyre as in `tyre_revs_per_km`.
    """
    return teeth * axle_ratio * tyre_revs_per_km(diameter_mm)


def pulses_per_km_wheel(teeth: float, diameter_mm: float) -> float:
    """Return pulses per kilometre of a sensor at the wheel hub, where the axle ratio does not enter.

    Formula: teeth × turns per km of the loaded tyre. Range: as the params; no errors inside it.
    Source: arithmetic; the tyre as in `tyre_revs_per_km`.
    """
    return teeth * tyre_revs_per_km(diameter_mm)


def pulses_per_km_before_transfer(teeth: float, transfer_ratio: float, axle_ratio: float, diameter_mm: float) -> float:
    """Return pulses per kilometre of a sensor ahead of a transfer case, in the range whose ratio is given.

    Formula: teeth × transfer ratio × axle ratio × turns per km. Range: as the params; no errors inside it.
    Source: arithmetic; in low range such a sensor reads high by the low ratio.
    """
    return teeth * transfer_ratio * axle_ratio * tyre_revs_per_km(diameter_mm)


def pulses_per_km_cable(cable_turns_per_km: float, pulses_per_turn: float) -> float:
    """Return pulses per kilometre of a sender in the speedometer cable.

    Formula: cable turns per km × pulses per turn. Range: as the params; no errors inside it. Source: arithmetic;
    a cable that turns 1000 times in a mile (621.4 in a km) is common, from memory of SAE J678.
    """
    return cable_turns_per_km * pulses_per_turn


def pulses_per_km_measured(pulses: float, distance_m: float) -> float:
    """Return pulses per kilometre counted over a measured road; it overrides every formula.

    Formula: 1000 × pulses / distance in m. Range: as the params; no errors inside it. Source: arithmetic.
    """
    return 1000.0 * pulses / distance_m


def speed_signal_hz(pulses_per_km: float, speed_km_h: float) -> float:
    """Return the frequency in Hz of the speed signal at a road speed.

    Formula: pulses per km × km/h / 3600. Range: as the params; no errors inside it. Source: arithmetic.
    """
    return pulses_per_km * speed_km_h / 3600.0


def highest_countable_speed_km_h(pulses_per_km: float, frequency_limit_hz: float) -> float:
    """Return the road speed in km/h at which the signal reaches the highest frequency its reader counts.

    Formula: 3600 × limit in Hz / pulses per km. Range: as the params; no errors inside it. Source: arithmetic.
    """
    return 3600.0 * frequency_limit_hz / pulses_per_km


def lowest_readable_speed_km_h(threshold_v: float, amplitude_v: float, at_speed_km_h: float) -> float:
    """Return the lowest speed in km/h at which a variable-reluctance sensor's voltage reaches the threshold.

    Formula: speed measured at × threshold / amplitude measured; the voltage grows in proportion to speed.
    Range: as the params; no errors inside it. Source: Faraday's law at a fixed gap; common practice.
    """
    return at_speed_km_h * threshold_v / amplitude_v


def speed_number_error_percent(programmed_per_km: float, teeth: float, axle_ratio: float, diameter_mm: float) -> float:
    """Return by how many per cent the speed shown is above the true speed (below: negative), shaft sensor.

    Formula: 100 × (pulses sent per km / pulses programmed per km - 1). Range: as the params; no errors inside it.
    Source: arithmetic; the tyre as in `tyre_revs_per_km`.
    """
    return 100.0 * (pulses_per_km_shaft(teeth, axle_ratio, diameter_mm) / programmed_per_km - 1.0)


def speed_number_error_percent_wheel(programmed_per_km: float, teeth: float, diameter_mm: float) -> float:
    """Return by how many per cent the speed shown is above the true speed, with the sensor at the wheel hub.

    Formula: 100 × (pulses sent per km / pulses programmed per km - 1). Range: as the params; no errors inside it.
    Source: arithmetic; the tyre as in `tyre_revs_per_km`.
    """
    return 100.0 * (pulses_per_km_wheel(teeth, diameter_mm) / programmed_per_km - 1.0)


def speed_number_error_percent_cable(programmed_per_km: float, cable_turns_per_km: float,
                                     pulses_per_turn: float) -> float:
    """Return by how many per cent the speed shown is above the true speed, with the sender in the cable.

    Formula: 100 × (cable turns per km × pulses per turn / pulses programmed per km - 1). Range: as the params; no
    errors inside it. Source: arithmetic.
    """
    return 100.0 * (pulses_per_km_cable(cable_turns_per_km, pulses_per_turn) / programmed_per_km - 1.0)


def speed_number_error_percent_counted(programmed_per_km: float, pulses_per_km: float) -> float:
    """Return by how many per cent the speed shown is above the true speed, from pulses counted on a measured road.

    Formula: 100 × (pulses counted per km / pulses programmed per km - 1). Range: as the params; no errors inside it.
    Source: arithmetic.
    """
    return 100.0 * (pulses_per_km / programmed_per_km - 1.0)


def speed_error_after_change_percent(old_axle_ratio: float, new_axle_ratio: float,
                                     old_diameter_mm: float, new_diameter_mm: float) -> float:
    """Return by how many per cent a shaft sensor makes the speed read high after a change of axle or tyre.

    Formula: 100 × (new axle / old axle × old diameter / new diameter - 1). Range: as the params; no errors inside.
    Source: arithmetic. A sensor at the wheel feels the tyre only: give the same axle ratio twice.
    """
    return 100.0 * (new_axle_ratio / old_axle_ratio * old_diameter_mm / new_diameter_mm - 1.0)


def signal_ratio(wanted_per_km: float, available_per_km: float) -> float:
    """Return pulses wanted out for each pulse in: under 1 a divider, over 1 a multiplier, 1 nothing.

    Formula: wanted / available. Range: as the params; no errors inside it. Source: arithmetic.
    """
    return wanted_per_km / available_per_km
