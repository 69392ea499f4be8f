"""Copper wire: what a size looks like, and the standards its sums cite."""
from __future__ import annotations

from .shapes import Source

WIRE_EXPECTED = "a section such as 1.5 mm2, or a gauge such as AWG 16 or 2/0 AWG, between 0.05 and 150 mm²"
ASTM_B258: Source = ("from-memory", "ASTM B258: diameter = 0.005 in × 92^((36 - n) ÷ 39); agrees with GNU units.")
IEC_60028: Source = ("from-memory", "IEC 60028: annealed copper, 1/58 Ω mm²/m at 20 °C, 0.393 % per K.")
IEC_60228: Source = ("from-memory", "IEC 60228 class 5 largest resistance: three reprints of the table agree up to "
                                    "25 mm², larger sizes from memory.")
