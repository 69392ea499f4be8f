"""Every drawing in a real browser: no words outside the frame, no words on other words, none too small on a phone."""

from __future__ import annotations

from playwright.sync_api import Browser

from build_tools.config import ROOT
from build_tools.drawings.figure import figure
from tests.drawings.samples import all_drawings

MEASURE = """() => [...document.querySelectorAll("section")].flatMap((section) => [...section.querySelectorAll("svg")].flatMap((svg) => {
  const { width, height } = svg.viewBox.baseVal
  const boxes = [...svg.querySelectorAll("text")].map((one) => [one.textContent, one.getBBox()])
  const found = []
  const whole = svg.getBBox()
  if (whole.x < 0 || whole.y < 0 || whole.x + whole.width > width || whole.y + whole.height > height) found.push([section.id, "strokes leave the frame", svg.ariaLabel])
  boxes.forEach(([text, box], place) => {
    if (box.x < 3 || box.y < 0 || box.x + box.width > width - 3 || box.y + box.height > height) found.push([section.id, "outside", text])
    const size = parseFloat(getComputedStyle(svg.querySelector("text")).fontSize) * svg.getBoundingClientRect().width / width
    if (size < 12) found.push([section.id, "small", text, size])
    boxes.slice(place + 1).forEach(([other, another]) => {
      const [wide, high] = [Math.min(box.x + box.width, another.x + another.width) - Math.max(box.x, another.x),
                            Math.min(box.y + box.height, another.y + another.height) - Math.max(box.y, another.y)]
      if (wide > 0.5 && high > 3) found.push([section.id, "on each other", text, other])
    })
  })
  return found
}))"""


def test_no_words_leave_the_frame_meet_or_shrink_on_a_phone(chromium: Browser) -> None:
    styles = "".join((ROOT / "wizard/web/style" / name).read_text("utf-8") for name in ("tokens.css", "drawings.css"))
    body = "".join(f'<section id="{name}">{figure(one)}</section>' for name, one in all_drawings().items())
    page = chromium.new_page(viewport={"width": 360, "height": 800})
    page.set_content(f'<!doctype html><style>{styles} body {{ margin: 0 24px }}</style><body class="db-text md-typeset">{body}')

    found = page.evaluate(MEASURE)
    wide = page.evaluate("document.documentElement.scrollWidth")
    page.close()

    assert found == []
    assert wide <= 360


def test_the_measure_sees_words_outside_the_frame_and_on_each_other(chromium: Browser) -> None:
    page = chromium.new_page(viewport={"width": 360, "height": 800})
    page.set_content('<section id="x"><svg viewBox="0 0 320 40" width="320"><text x="300" y="20" font-size="13">too far out</text>'
                     '<text x="300" y="22" font-size="13">meets it</text></svg></section>')

    kinds = {entry[1] for entry in page.evaluate(MEASURE)}
    page.close()

    assert kinds == {"strokes leave the frame", "outside", "on each other"}
