"""Wire in the vehicle: what is asked, said and cited of its sums."""
from __future__ import annotations

from ..copper import awg_section_mm2, solid_resistance_ohm_km, stranded_resistance_ohm_km
from ..wire import (cranking_drop_v, fuse_for_load_a, fuse_share_of_wire_percent, smallest_listed_section_mm2,
                    smallest_section_mm2, wire_current_for_heat_a, wire_drop_v)
from .copper import ASTM_B258, IEC_60028, IEC_60228
from .shapes import ARITHMETIC, Band, Param, Source, Sum, make_sum

CURRENT = Param("current_a", "Current", "A", 0.01, 400, measure="Measure with a clamp, or read the rating.", usual=10)
LENGTH = Param("length_m", "Length one way", "m", 0.05, 20, measure="Lay a string along the route.", usual=4)
SECTION = Param("section_mm2", "Copper section", "mm²", 0.05, 150,
                measure="Read the marking, or compare the bare strands with a known wire.", usual=1.5,
                reads="wire_size", falls=True)
TEMP = Param("temp_c", "Wire temperature", "°C", -40, 150, measure="About 85 in an engine bay, 20 in a cabin.", usual=60)
_DROP = Param("drop_v", "Allowed loss", "V", 0.01, 3, measure="0.5 for a feed, 0.1 for a sensor return.",
              usual=0.5, falls=True)
_CRANK = CURRENT._replace(title="Cranking current", low=50, high=1500, usual=300,
                          measure="Measure with a clamp for direct current while cranking.")
_CABLES = LENGTH._replace(name="cable_m", title="Length of cable, both cables together", usual=5)
_BODY = Param("body_mohm", "Body and joints in the way back", "mΩ", 0, 20,
              measure="Measure the drop over them at a known current; 0 with a cable of its own.", usual=1)
_GAUGE = Param("awg", "Gauge number", "AWG", -3, 40, True, "Read it on the wire; 2/0 is -1, 3/0 is -2, 4/0 is -3.", 16,
               falls=True)
_HEAT = (SECTION._replace(falls=False),
         Param("outside_mm", "Diameter over the insulation", "mm", 0.5, 30, measure="Measure with a calliper.", usual=2.4),
         Param("ambient_c", "Air around the wire", "°C", -40, 120, measure="About 85 in an engine bay.", usual=85,
               falls=True),
         Param("conductor_c", "Highest temperature of the wire", "°C", 21, 200,
               measure="Read the temperature class on the wire.", usual=105),
         Param("film_w_m2k", "Heat given off", "W/m² K", 3, 40, measure="About 10 in a loom, up to 20 alone in air.", usual=10))
_FEED = Band(None, 0.5, "The trade allows 0.5 V in a feed and 0.1 V in a sensor return.",
             ("common-practice", "0.5 V in feeds, 0.1 V in sensor returns."))
_CABLE_BAND = Band(None, 0.5, "The trade allows 0.5 V in the cables while cranking.",
                   ("common-practice", "0.5 V in the positive cable while cranking."))
_GUIDE: Source = ("published", "Fuseology guide of circuitprotection.ca: steady current at most 75 % of the rating at 25 °C.")
_RATINGS: Source = ("from-memory", "Fuse ratings of the ISO 8820 series.")
_DROPS = (IEC_60228, ARITHMETIC)
_CLAD = "This is the most the standard allows for copper; copper-clad aluminium loses about 1.6 times as much."

SUMS: tuple[Sum, ...] = (
    make_sum("wire", awg_section_mm2, "Copper section of a gauge number", (_GAUGE,), "mm²",
             "π ÷ 4 × (0.127 × 92 ^ ((36 - n) ÷ 39))²", (ASTM_B258,),
             notes=("Vehicle wire sold by gauge may hold 5 to 12 % less copper.",)),
    make_sum("wire", stranded_resistance_ohm_km, "Resistance of fine-stranded wire, the most the standard allows",
             (SECTION, TEMP), "Ω/km", "class 5 table at 20 °C × (1 + 0.00393 × (t - 20))", (IEC_60228, IEC_60028), 0.0, 3),
    make_sum("wire", solid_resistance_ohm_km, "Resistance of solid copper", (SECTION, TEMP), "Ω/km",
             "1000 ÷ (58 × section) × (1 + 0.00393 × (t - 20))", (IEC_60028,), 0.0, 4,
             notes=("Fine-stranded wire of the same name has up to 16 % more.",)),
    make_sum("wire", wire_drop_v, "Voltage lost in a wire, out and back", (CURRENT, LENGTH, SECTION, TEMP), "V",
             "current × 2 × length ÷ 1000 × ohms per km", _DROPS, 0.0, 3, _FEED,
             ("Each joint and terminal adds a few milliohms.", _CLAD)),
    make_sum("wire", smallest_section_mm2, "Smallest section for a loss", (CURRENT, LENGTH, _DROP, TEMP), "mm²",
             "the section whose ohms per km are 1000 × allowed loss ÷ (current × 2 × length)", _DROPS, 0.0, 3,
             notes=("Check the heat too: a short wire that loses little may still run too hot.",)),
    make_sum("wire", smallest_listed_section_mm2, "Smallest listed section for a loss", (CURRENT, LENGTH, _DROP, TEMP),
             "mm²", "the next listed size up from the smallest section", _DROPS, 0.0, 3),
    make_sum("wire", fuse_for_load_a, "Smallest fuse that carries a load", (CURRENT._replace(high=375),), "A",
             "the next rating up from current ÷ 0.75", (_GUIDE, _RATINGS), 0.0, 3,
             notes=("The fuse must also be no larger than what the wire may carry.",)),
    make_sum("wire", fuse_share_of_wire_percent, "Fuse against wire",
             (Param("fuse_a", "Fuse rating", "A", 0.5, 600, measure="Read it on the fuse.", usual=15),
              Param("wire_rating_a", "Current the wire may carry where it lies", "A", 0.5, 600,
                    measure="Take the maker's figure, reduced for bundle and heat.", usual=20, falls=True)), "%",
             "100 × fuse ÷ wire", (("common-practice", "A fuse protects the wire, so it is never larger."),), 0.0, 3,
             Band(None, 100.0, "The fuse must be no larger than the wire.",
                  ("common-practice", "Fuse no larger than the wire's rating in its place."))),
    make_sum("wire", wire_current_for_heat_a, "Current that warms a wire to its limit (estimate)", _HEAT, "A",
             "√(film × π × outside diameter × (conductor - ambient) ÷ ohms per km)",
             (("common-practice", "Heat balance of a cylinder; the film is a judgement."),), 0.25, 2,
             notes=("Never use more than the maker of the wire allows.",)),
    make_sum("wire", cranking_drop_v, "Voltage lost in the battery cable while cranking",
             (_CRANK, _CABLES, SECTION._replace(usual=70), _BODY, TEMP), "V", "current × (length × ohms per km + body) ÷ 1000", _DROPS, 0.0, 3, _CABLE_BAND,
             ("A battery cable through the body needs main protection at the battery.", _CLAD)),
)
