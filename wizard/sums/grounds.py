"""Grounds: what the currents of other loads do to a sensor's signal, and what a bad or missing strap does."""
from __future__ import annotations


def ground_lift_v(load_current_a: float, strap_mohm: float) -> float:
    """Return by how many V a current lifts the block (or a ground point) above battery negative.

    Formula: current × resistance / 1000. Range: as the params; no errors inside it. Source: Ohm's law.
    """
    return load_current_a * strap_mohm / 1000.0


def heater_ground_lift_v(voltage_v: float, heaters: float, heater_ohm: float, feed_mohm: float,
                         strap_mohm: float) -> float:
    """Return by how many V oxygen sensor heaters that return through the block lift it.

    Formula: voltage × strap / (feed + heater / number + strap). Range: as the params; no errors inside it.
    Source: Ohm's law, a series circuit.
    """
    strap, feed = strap_mohm / 1000.0, feed_mohm / 1000.0
    return voltage_v * strap / (feed + heater_ohm / heaters + strap)


def sensor_reading_v(reference_v: float, upper_ohm: float, lower_ohm: float, input_ohm: float,
                     return_mohm: float, return_lift_v: float) -> float:
    """Return the voltage in V the controller reads from a divider sensor, against its own ground.

    Formula: (reference / upper + lift / (lower + return)) / (1 / upper + 1 / (lower + return) + 1 / input).
    Range: as the params; no errors inside it. Source: node equation (Kirchhoff). `return_lift_v` is how far the
    far end of the sensor's return is above the controller's ground: 0 with a return wire of its own.
    """
    below = lower_ohm + return_mohm / 1000.0
    return (reference_v / upper_ohm + return_lift_v / below) / (1.0 / upper_ohm + 1.0 / below + 1.0 / input_ohm)


def case_return_error_v(load_current_a: float, strap_mohm: float, upper_ohm: float, lower_ohm: float,
                        input_ohm: float) -> float:
    """Return by how many V other loads shift the signal of a sensor that returns through the block.

    Formula: current × strap × (1 / (lower + strap)) / (1 / upper + 1 / (lower + strap) + 1 / input); what the
    sensor's own current adds is left out (under 0.1 % of it). Range: as the params; no errors inside it.
    Source: superposition of the node equation.
    """
    return sensor_reading_v(0.0, upper_ohm, lower_ohm, input_ohm, strap_mohm, ground_lift_v(load_current_a, strap_mohm))


def own_return_error_v(sensor_current_ma: float, return_mohm: float) -> float:
    """Return by how many V the sensor's own current lifts the far end of its own return wire: the most it errs.

    Formula: current × resistance. Range: as the params; no errors inside it. Source: Ohm's law.
    """
    return sensor_current_ma * return_mohm / 1e6


def stray_current_a(load_current_a: float, strap_mohm: float, stray_mohm: float) -> float:
    """Return the current in A that takes another way (throttle cable, bearings, sensor wires) past a bad strap.

    Formula: current × strap / (strap + stray path). A missing strap is one of a million milliohms.
    Range: as the params; no errors inside it. Source: current divider.
    """
    return load_current_a * strap_mohm / (strap_mohm + stray_mohm)


def lift_with_stray_path_v(load_current_a: float, strap_mohm: float, stray_mohm: float) -> float:
    """Return by how many V the block is lifted when strap and stray path share the current.

    Formula: current × strap × stray / (strap + stray). Range: as the params; no errors inside it.
    Source: two resistances side by side.
    """
    return load_current_a * strap_mohm * stray_mohm / (strap_mohm + stray_mohm) / 1000.0


def largest_strap_mohm(load_current_a: float, allowed_v: float) -> float:
    """Return the largest resistance in milliohms that keeps the loss in a strap within what is allowed.

    Formula: 1000 × allowed / current. Range: as the params; no errors inside it. Source: Ohm's law.
    """
    return 1000.0 * allowed_v / load_current_a
