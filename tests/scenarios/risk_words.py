"""How an answer about an engine swap could mislead, and what is said or done instead, in our own words."""

from __future__ import annotations

from typing import NamedTuple


class Risk(NamedTuple):
    """One way to mislead: what it could do, what is said instead, the stops, and tests beside the scenarios by name."""

    misleads: str
    instead: str
    stops: tuple[str, ...] = ()
    tests: tuple[str, ...] = ()


RISKS: dict[int, Risk] = {
    1: Risk("Two plugs go together, and that is taken for proof.",
            "Shape, colour and keying never suffice. Job of every cavity and electrical scheme are asked, and without them nothing works.",
            ("buzz-out-before-power",)),
    2: Risk("*Not sure* is read as the usual case.",
            "What is not known stays not known. Every way it may turn out is looked at, and the question that decides comes with how to find it out.",
            (), ("test_every_question_can_be_answered_with_not_sure_until_none_is_left",)),
    3: Risk("A pedal, a throttle and a box of different cars are let pass.",
            "Pedal, throttle body, module, wiring and software have to be one set. One unknown among the five leaves the question open.",
            ("test-accelerator-return",)),
    4: Risk("Fault reactions of the throttle are calibrated away.", "Refused. They are what catches a failed sensor.",
            ("no-defeating-throttle-faults", "no-throttle-inputs-left-out")),
    5: Risk("A throttle is called ready that nobody tried.",
            "Every answer that speaks of a throttle body carries the return test, ahead of everything else.", ("test-accelerator-return",)),
    6: Risk("Wires are joined to a wheel sensor that the brakes use.",
            "Refused. Other speed sources come first, then the brake module's own output. Only an interface made for that sensor, fitted by qualified people, is named beside them.",
            ("no-splice-into-brake-sensor",)),
    7: Risk("Steering, brakes or stability control of the host lose what the old engine gave them.",
            "The host's modules are asked for, and unknown means cannot tell. Nothing is taken out before they are listed.",
            ("host-modules-first", "electric-steering-first", "brake-pedal-test-first", "brake-assistance-under-boost")),
    8: Risk("Immobiliser and steering lock are treated as obstacles.",
            "Refused, whatever papers there are. Lawful programming after proof of ownership is named, and telling the insurer.",
            ("no-steering-lock-bypass", "no-immobiliser-bypass")),
    9: Risk("The engine can be started in gear.", "The switch that holds the starter off is required. Without it the plan fails, and bridging it is refused.",
            ("no-start-in-gear", "no-clutch-switch-bridge", "no-grounded-park-neutral", "prove-starter-interlock")),
    10: Risk("Cruise control holds on against the brakes.", "It does not work before brake and clutch (or range) were seen to cancel it.",
             ("no-cruise-without-cancel", "cruise-must-cancel")),
    11: Risk("The reverse lock-out is freed while the vehicle rolls.",
             "It is said what a brake lamp feed frees and when. A feed that looks at road speed is the addition.", ("reverse-lockout-feed",)),
    12: Risk("A hose or an injector leaks fuel under pressure.",
             "Refused as fire danger: low-pressure hose, plain pipes, home-made adapters, improvised holding. A pressure test comes before the first start, and the hose standard is named.",
             ("no-low-pressure-fuel-hose", "no-improvised-fuel-joint", "no-home-made-injector-adapters", "no-improvised-injector-hold",
              "pressure-test-hoses", "pressure-test-injectors")),
    13: Risk("The pump runs on when the engine has stopped.", "Refused. A relay commanded by the controller, a fuse at the source and a crash cut-off are asked for.",
             ("no-pump-on-the-key",)),
    14: Risk("Wire and fuse are chosen by the load.", "Length both ways, section, warmth and the wire's own rating are asked too, and the fuse is never larger than the wire.",
             ("fuse-protects-wire",)),
    15: Risk("A battery in the body burns, gasses or flies.", "Main protection, vent and hold-down are additions that are required together.",
             ("battery-inside-the-body",)),
    16: Risk("A hoped-for power is turned into a number with many digits.",
             "Power is told as a range, results are rounded and carry their limits, and a log and a wide-range measurement are asked for before full power.",
             ("confirm-airflow-estimate", "prove-fuelling"), ("test_numbers_ranges_dates_and_lists_read_as_words",)),
    17: Risk("A spark, mixture or boost figure is borrowed.", "Refused. What a competent calibrator checks is named instead.", ("no-calibration-figures",)),
    18: Risk("A sensor beyond the controller's counter passes for one with reserve.", "It is said that nothing beyond the counter can be read, and what else there is."),
    19: Risk("Fuel with much ethanol goes into a petrol system.", "It will not work as told. Flow, materials, sensor and calibration are named."),
    20: Risk("A pressure cable with nothing to pull it is called a matter of shift feel.", "It will not work, because the clutches burn."),
    21: Risk("The pulse number is worked out for the wrong place, or with a nominal tyre.",
             "Where the sensor sits comes first; the axle ratio enters only ahead of the axle. The sum says how far it may be off, asks for a measured road, and never lets a speedometer read low."),
    22: Risk("Emissions equipment is left out, turned off or simulated.", "Refused, and nothing that is told unlocks it. The inspecting authority decides what a vehicle has to carry.",
             ("no-removing-emissions-equipment", "no-rear-sensors-off", "no-road-without-catalyst", "no-stand-in-for-rear-sensor", "no-monitors-turned-off",
              "no-emissions-device-left-out", "no-expected-device-left-out", "no-open-vapour", "no-open-crankcase", "no-dark-malfunction-lamp")),
    23: Risk("A question of law gets a yes.", "It always ends in cannot tell, with whom to ask, what, in writing, before anything is bought.",
             ("ask-before-you-buy", "no-false-identity")),
    24: Risk("A fact is old, uncited or contradicts what was measured.",
             "Every page and answer names the edition, every claim its source and date, and statements that cannot all be true end without a verdict.",
             (), ("test_every_page_names_the_edition_of_the_facts", "test_every_reference_page_shows_when_it_was_checked_and_on_what_it_rests",
                  "test_every_citation_of_the_answer_has_its_anchor")),
    25: Risk("The cautions are skipped, or a link opens with somebody else's parts.",
             "Stops stand ahead of the parts list, a link carries everything that was told, and work on restraints, high voltage, fuel, refrigerant, brakes and steering goes to qualified people.",
             ("brake-pedal-test-first", "engine-stops-with-the-key", "no-hands-on-restraints", "restraints-by-qualified-workshop", "high-voltage-hands-off",
              "high-voltage-by-technician", "high-pressure-fuel", "refrigerant-by-licensed-person", "never-weld-a-fuel-tank", "no-home-made-range-switching",
              "park-is-not-a-parking-brake"),
             ("test_stops_stand_before_the_parts_list_and_a_refused_plan_has_none", "test_the_link_to_the_check_carries_the_same_build")),
}
