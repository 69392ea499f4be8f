"""The design tokens: every pair of ink and ground that the pages use is readable, in light and in dark, and only tokens name a colour.

Outside check: contrast ratio and its least value for text, 4.5 to 1, by the W3C's Web Content Accessibility Guidelines 2.1, success criterion
1.4.3, and 3 to 1 for marks and focus, 1.4.11; the formula is from memory.
"""

from __future__ import annotations

import re

import pytest

from build_tools.config import ROOT

STYLE = ROOT / "wizard" / "web" / "style"
PAIR = re.compile(r"--db-([a-z-]+): light-dark\((#[0-9a-f]{6}), (#[0-9a-f]{6})\);")
TOKENS = {name: (light, dark) for name, light, dark in PAIR.findall((STYLE / "tokens.css").read_text("utf-8"))}
GROUNDS = ("paper", "raised", "sunk")
VERDICTS = ("works", "additions", "cannot", "fails")
TEXT = [(ink, ground) for ink in ("ink", "ink-soft", "ink-faint", "accent", *VERDICTS) for ground in GROUNDS]
TEXT += [(ink, f"{verdict}-wash") for verdict in VERDICTS for ink in (verdict, "ink", "ink-soft", "accent")]
TEXT += [("on-accent", "accent"), ("accent", "accent-wash"), ("paper", "ink")]
MARKS = [("focus", ground) for ground in GROUNDS] + [("rule-strong", ground) for ground in ("paper", "raised")]


def luminance(colour: str) -> float:
    """Return the relative luminance of a colour written as #rrggbb."""
    parts = [int(colour[place:place + 2], 16) / 255 for place in (1, 3, 5)]
    red, green, blue = (part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: str, other: str) -> float:
    """Return the contrast ratio of two colours."""
    low, high = sorted((luminance(one), luminance(other)))
    return (high + 0.05) / (low + 0.05)


def test_the_measure_of_contrast_gives_its_known_ends() -> None:
    assert contrast("#000000", "#ffffff") == pytest.approx(21)
    assert contrast("#777777", "#777777") == pytest.approx(1)


@pytest.mark.parametrize("scheme", [0, 1], ids=["light", "dark"])
@pytest.mark.parametrize(("ink", "ground", "least"), [(*pair, 4.5) for pair in TEXT] + [(*pair, 3.0) for pair in MARKS])
def test_ink_stands_out_from_its_ground(ink: str, ground: str, least: float, scheme: int) -> None:
    assert contrast(TOKENS[ink][scheme], TOKENS[ground][scheme]) >= least


def test_only_the_tokens_name_colours_and_fonts() -> None:
    """Black for print and for the shade of a shadow needs no token."""
    named = re.compile(r"#(?!000\b)[0-9a-f]{3,8}\b|\brgba?\((?!0 0 0 /)|\bhsla?\(|font-family: (?!var|inherit)", re.IGNORECASE)
    others = [(file.name, line.strip()) for file in sorted(STYLE.glob("*.css")) if file.name != "tokens.css"
              for line in file.read_text("utf-8").splitlines() if named.search(re.sub(r"url\([^)]*\)", "", line))]

    assert others == []


def test_no_style_brings_a_font_or_a_file_from_elsewhere() -> None:
    text = "".join(file.read_text("utf-8") for file in sorted(STYLE.glob("*.css")))

    assert "@font-face" not in text
    assert "@import" not in text
    assert "http" not in text


def test_each_verdict_has_a_mark_of_its_own_shape() -> None:
    marks = (ROOT / "wizard/web/theme/partials/marks.html").read_text("utf-8")
    shapes = [re.search(rf'<symbol id="mark-{verdict}"[^>]*>(.*?)</symbol>', marks, re.DOTALL)
              for verdict in ("works", "works-with-additions", "cannot-tell", "will-not-work")]

    assert all(shapes)
    assert len({"".join(shape[1].split()) for shape in shapes if shape}) == 4
