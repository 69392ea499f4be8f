"""Every drawing by the name that facts give it, and which drawings the pages of sums show."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from build_tools.drawings import air, crank, electrics, faces, fuel, grounds, injectors, oxygen, speed, throttle
from build_tools.drawings.figure import Drawing

FIXED: Mapping[str, Callable[[], Drawing]] = {
    "air-temperature-place": air.temperature_place,
    "airflow-bore": air.bore_twice,
    "airflow-place": air.airflow_place,
    "bus-ends": electrics.bus_ends,
    "crank-gap": crank.gap,
    "crank-wheel-36-1": lambda: crank.wheel(36, 1),
    "crank-wheel-60-2": lambda: crank.wheel(60, 2),
    "face-parts": faces.how_to_read,
    "ground-straps": grounds.straps,
    "injector-length": injectors.measure,
    "injector-lengths": injectors.typical,
    "output-sides": electrics.output_sides,
    "oxygen-bung-angle": oxygen.bung_angle,
    "oxygen-bung-place": oxygen.bung_place,
    "oxygen-heater-return": oxygen.heater_return,
    "oxygen-signal-return": oxygen.signal_return,
    "position-tracks": throttle.tracks,
    "pulleys": electrics.pulleys,
    "regulator-lines": fuel.regulator_lines,
    "sensor-returns": grounds.sensor_returns,
    "speed-ring-places": speed.ring_places,
    "speed-ring-width": speed.ring_width,
    "throttle-flange": throttle.flange,
    "transfer-case": speed.transfer_case,
}
FACES = ("plug-face", "plug-face-harness")
TO_SCALE = ("injector-to-scale",)
NAMES = tuple(sorted({*FIXED, *FACES, *TO_SCALE}))
OF_SUMS: Mapping[str, tuple[str, ...]] = {
    "alternator_speed_rpm": ("pulleys",),
    "belt_speed_m_s": ("pulleys",),
    "case_return_error_v": ("sensor-returns",),
    "ground_lift_v": ("ground-straps",),
    "largest_strap_mohm": ("ground-straps",),
    "lift_with_stray_path_v": ("ground-straps",),
    "own_return_error_v": ("sensor-returns",),
    "pulses_per_km_before_transfer": ("transfer-case",),
    "ring_margin_mm": ("speed-ring-width",),
    "stray_current_a": ("ground-straps",),
    "termination_ohm": ("bus-ends",),
    "terminators_from_reading": ("bus-ends",),
    "throttle_step_mm": ("throttle-flange",),
}
