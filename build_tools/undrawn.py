"""Which rules need no drawing although they read something that can be seen or measured, and why."""

from __future__ import annotations

from collections.abc import Mapping

UNDRAWN: Mapping[str, tuple[str, ...]] = {
    "a reading or a figure decides, and a picture of a meter would not help": (
        "air-frequency", "air-output", "air-temperature-curve", "chg-output", "flx-blend", "flx-hose-material", "flx-injector-material",
        "flx-pump-material", "flx-regulator-material", "flx-sensor-input", "fue-hose-pressure", "fue-pump-flow", "inj-coil", "inj-fuel-use",
        "pwr-feed-drop", "pwr-feed-heat", "sen-coolant-curve", "sen-fuel-gauge", "sen-fuel-level-controller", "sen-reference-reading",
    ),
    "it looks different from maker to maker, so that the part's own number, plugs or diagram settle it": (
        "air-reach", "air-temperature-sensor", "aux-ac-pressure", "aux-ac-relay", "aux-ac-request", "aux-cruise-cancel", "aux-cruise-stalk",
        "aux-steering-assist", "aux-steering-load", "chg-branch", "chg-controller-part", "ckp-cam-pattern", "ctl-cam-phaser",
        "ctl-cylinder-shut-off", "ctl-transmission-drivers", "fan-drive", "fan-no-signal", "fan-with-ac", "gau-speedometer-drive",
        "gau-tach-number", "gau-tach-signal", "ign-driver", "ign-outputs", "knk-type", "man-head", "sen-oil-controller", "sen-oil-gauge",
        "sen-oil-mount", "sen-temperature-gauge", "swi-clutch", "swi-range", "thr-module-extra", "thr-wiring-state", "trn-calibration-kind",
        "trn-electronic-match", "trn-hydraulic-extras", "trn-own-module", "trn-range-switch", "trn-reverse-lockout", "trn-selector",
        "trn-shift-inhibit", "vss-needed",
    ),
    "one does it and sees what happens": (
        "brk-pedal-test", "emi-lamp", "o2s-bank", "thr-pedal-mount", "trn-selector-detents",
    ),
    "it is seen at a glance": (
        "fue-hose-joints", "pwr-battery-box", "pwr-battery-protection", "pwr-cut-off", "pwr-route-heat", "pwr-route-hold",
        "pwr-route-motion", "pwr-route-noise",
    ),
    "the work is left to qualified people, and a drawing would invite others to it": ("hvs-donor-host", "imm-host", "net-restraints"),
}
"""Rules by the reason; `coverage` lists them no more, and a test takes out what is drawn after all or is no rule any more."""


def excused() -> frozenset[str]:
    """Return every rule that needs no drawing."""
    return frozenset(rule for rules in UNDRAWN.values() for rule in rules)
