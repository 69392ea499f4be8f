"""Mating faces of plugs, drawn from what is written down of them: outline, cavities by row, latch, ribs, pins or sockets."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any, NamedTuple

from build_tools.drawings.figure import Drawing, Panel
from build_tools.drawings.ink import WIDTH, arc, box, dot, line, number, path, pointer, ring, words

OUTLINES = {"rectangle": "a rectangular shell", "oval": "an oval shell", "round": "a round shell", "triangle": "a three-cornered shell"}
LATCHES = {
    "top": "a latch at the top", "right": "a latch at the right-hand side", "left": "a latch at the left-hand side", "wire_clip": "a wire clip round it", "lever": "a lever over it",
    "none": "no latch",
}
RIBS = {"left": "at the left", "right": "at the right", "bottom": "at the bottom", "bottom_left": "at the bottom left", "bottom_right": "at the bottom right"}
TURNED = {"left": "right", "right": "left", "bottom_left": "bottom_right", "bottom_right": "bottom_left"}
SIDE = {"side": "right"}
COUNTS = ("no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve")
PITCH, MARGIN, ROOM = 36.0, 20.0, 270.0
UNKNOWN = ""
UNASKED = "unasked"


class Face(NamedTuple):
    """One plug seen from the front: its outline, cavities in each row from the top, latch, ribs, and whether it is seen from the other side."""

    outline: str
    rows: tuple[int, ...]
    latch: str
    ribs: tuple[str, ...]


class Frame(NamedTuple):
    """Where a face is drawn: its corner, size, and the distance between cavities."""

    x: float
    y: float
    width: float
    height: float
    pitch: float


def face_of(plug: Mapping[str, Any]) -> Face:
    """Return the face that a plug of the facts describes."""
    return Face(plug["outline"], tuple(plug["rows"]), SIDE.get(plug["latch"], plug["latch"]), tuple(plug["ribs"]))


def mirrored(face: Face) -> Face:
    """Return the face of the other half of the pair: left and right change places, and the latch stays at the top or goes to the other side."""
    return face._replace(ribs=tuple(TURNED.get(rib, rib) for rib in face.ribs), latch=TURNED.get(face.latch, face.latch))


def ways(face: Face) -> int:
    """Return how many cavities the face has."""
    return sum(face.rows)


def said(face: Face, terminals: str) -> str:
    """Return a face in words: outline, number of cavities, rows, latch, ribs, terminals."""
    count = ways(face)
    rows = "in one row" if len(face.rows) == 1 else f"in rows of {_listed([str(row) for row in face.rows])} from the top"
    cavities = f"{count} {'cavity' if count == 1 else 'cavities'}" + ("" if count == 1 else f" {rows}")
    ribs = f"{_count(len(face.ribs))} {'rib' if len(face.ribs) == 1 else 'ribs'} {_listed([RIBS[rib] for rib in face.ribs])}" if face.ribs else "no rib"
    holding = {"pins": "It holds pins.", "sockets": "It holds sockets.", UNASKED: ""}.get(terminals, "Whether it holds pins or sockets is not known.")
    return f"{OUTLINES[face.outline].capitalize()} with {cavities}, {LATCHES[face.latch]} and {ribs}. {holding}".strip()


def faces(plugs: Sequence[Mapping[str, Any]], terminals: str = UNKNOWN, harness: bool = False) -> Drawing:
    """Return the plugs of one end beside each other, seen from the front; those of a harness are the mirror image of the part's."""
    panels = []
    for plug in plugs:
        face = mirrored(face_of(plug)) if harness else face_of(plug)
        panels.append(panel(face, terminals, plug["name"].replace("_", " ").capitalize() if len(plugs) > 1 else ""))
    side = "the harness's plug" if harness else "the part's plug"
    return Drawing(tuple(panels), f"Looking into {side}, latch upwards. {' '.join(_named(one) for one in panels)}")


def _named(one: Panel) -> str:
    return f"{one.title}: {one.says[0].lower()}{one.says[1:]}" if one.title else one.says


def panel(face: Face, terminals: str, title: str = "") -> Panel:
    """Return one face by itself in the middle of a panel."""
    frame = framed(face, 34.0)
    return Panel(face_marks(face, frame, terminals), round(frame.y + frame.height + 26), said(face, terminals), title)


def framed(face: Face, top: float, middle: float = WIDTH / 2) -> Frame:
    """Return the place of a face around the middle of a panel; cavities come closer together when there are many in a row."""
    widest = max(face.rows)
    pitch = min(PITCH, ROOM / (widest + 1))
    margin = MARGIN * max(0.55, pitch / PITCH)
    width, height = (widest - 1) * pitch + 2 * margin + pitch * 0.4, (len(face.rows) - 1) * pitch + 2 * margin + pitch * 0.1
    if face.outline == "oval":
        width += height * 0.3
    if face.outline == "round":
        width = height = max(width, height) * (1.12 if ways(face) > 1 else 1)
    if face.outline == "triangle":
        width, height = width * 1.25 + 14, height * 1.2 + 12
    return Frame(middle - width / 2, top, width, height, pitch)


def face_marks(face: Face, frame: Frame, terminals: str) -> str:
    """Return the strokes of a face: latch behind, shell, ribs, cavities."""
    return _latch(face, frame) + _shell(face, frame) + "".join(_rib(rib, face, frame) for rib in face.ribs) + _cavities(face, frame, terminals)


def _shell(face: Face, frame: Frame) -> str:
    x, y, width, height, _ = frame
    if face.outline == "triangle":
        middle = x + width / 2
        return path(f"M{number(middle - 16)} {number(y)}H{number(middle + 16)}Q{number(middle + 24)} {number(y)} {number(middle + 29)} {number(y + 9)}"
                    f"L{number(x + width)} {number(y + height - 16)}Q{number(x + width + 3)} {number(y + height)} {number(x + width - 14)} {number(y + height)}"
                    f"H{number(x + 14)}Q{number(x - 3)} {number(y + height)} {number(x)} {number(y + height - 16)}"
                    f"L{number(middle - 29)} {number(y + 9)}Q{number(middle - 24)} {number(y)} {number(middle - 16)} {number(y)}Z", "d-part")
    corner = {"rectangle": 5.0, "oval": height / 2, "round": width / 2}[face.outline]
    return box(x, y, width, height, "d-part", corner)


def _latch(face: Face, frame: Frame) -> str:
    x, y, width, height, _ = frame
    middle = x + width / 2
    if face.latch == "top":
        return box(middle - 17, y - 13, 34, 16, "d-keypart", 3) + line(middle - 9, y - 7, middle + 9, y - 7, "d-key")
    if face.latch in ("left", "right"):
        edge = x - 13 if face.latch == "left" else x + width - 3
        bar = edge + (6 if face.latch == "left" else 10)
        return box(edge, y + height / 2 - 15, 16, 30, "d-keypart", 3) + line(bar, y + height / 2 - 8, bar, y + height / 2 + 8, "d-key")
    if face.latch == "wire_clip":
        low, left_edge, right_edge = y + height + 8, x - 9, x + width + 9
        return path(f"M{number(middle - 12)} {number(low)}H{number(left_edge + 6)}Q{number(left_edge)} {number(low)} {number(left_edge)} {number(low - 6)}V{number(y - 3)}"
                    f"Q{number(left_edge)} {number(y - 9)} {number(left_edge + 6)} {number(y - 9)}H{number(right_edge - 6)}Q{number(right_edge)} {number(y - 9)} {number(right_edge)} {number(y - 3)}"
                    f"V{number(low - 6)}Q{number(right_edge)} {number(low)} {number(right_edge - 6)} {number(low)}H{number(middle + 12)}", "d-key")
    if face.latch == "lever":
        return path(f"M{number(x - 5)} {number(y + height * 0.6)}V{number(y - 10)}Q{number(x - 5)} {number(y - 16)} {number(x + 1)} {number(y - 16)}H{number(x + width - 1)}"
                    f"Q{number(x + width + 5)} {number(y - 16)} {number(x + width + 5)} {number(y - 10)}V{number(y + height * 0.6)}", "d-key") + dot(
                        x - 5, y + height * 0.6, 4, "d-keypart") + dot(x + width + 5, y + height * 0.6, 4, "d-keypart")
    return ""


def _rib(rib: str, face: Face, frame: Frame) -> str:
    """Return a rib that stands out of the shell."""
    x, y, width, height, _ = frame
    if rib in ("left", "right"):
        inset = 8.0 if face.outline == "triangle" else 0.0
        level = y + height * (0.72 if face.outline == "triangle" else 0.5)
        return box(x - 7 + inset if rib == "left" else x + width - 1 - inset, level - 6, 8, 12, "d-solid")
    along = {"bottom": 0.5, "bottom_left": 0.27, "bottom_right": 0.73}[rib]
    lift = height * 0.1 if face.outline == "round" and rib != "bottom" else 0.0
    return box(x + width * along - 6, y + height - 1 - lift, 12, 8, "d-solid")


def _cavities(face: Face, frame: Frame, terminals: str) -> str:
    x, y, width, height, pitch = frame
    size = min(11.0, pitch * 0.34)
    middle, first = x + width / 2, y + height / 2 - (len(face.rows) - 1) * pitch / 2
    if face.outline == "triangle":
        first += 4
    parts = []
    for row, count in enumerate(face.rows):
        for place in range(count):
            parts.append(cavity(middle + (place - (count - 1) / 2) * pitch, first + row * pitch, size, terminals))
    return "".join(parts)


def cavity(x: float, y: float, size: float, terminals: str) -> str:
    """Return one cavity: a solid post for a pin, a split ring for a socket, a bare hole when nobody knows."""
    hole = ring(x, y, size, "d-open d-cavity")
    if terminals == "pins":
        return hole + dot(x, y, size * 0.5)
    if terminals == "sockets":
        return hole + arc(x, y, size * 0.52, 110, 430)
    return hole


def how_to_read() -> Drawing:
    """Return both halves of a made-up pair, with the names of what to look at."""
    face = Face("rectangle", (3, 2), "top", ("left",))
    place = framed(face, 40.0)
    right, middle, row = place.x + place.width, place.y + place.height / 2, place.y + place.height / 2 - place.pitch / 2
    left = (face_marks(face, place, "pins") + words(248, 26, "latch", "start", "d-name") + pointer(244, 22, 178, 32) + words(12, 124, "rib", "start", "d-name")
            + pointer(34, 117, place.x - 4, middle + 4) + words(248, 84, "a pin:", "start", "d-name") + words(248, 100, "a post", "start", "d-name")
            + pointer(244, 80, 160 + place.pitch + 4, row))
    other = (face_marks(mirrored(face), place, "sockets") + words(248, 26, "latch", "start", "d-name") + pointer(244, 22, 178, 32)
             + words(274, 124, "rib", "start", "d-name") + pointer(272, 117, right + 4, middle + 4) + words(8, 84, "a socket:", "start", "d-name")
             + words(8, 100, "a hole with", "start", "d-name") + words(8, 116, "a spring", "start", "d-name") + pointer(68, 80, 160 - place.pitch - 7, row))
    rows = words(WIDTH / 2, 154, "5 cavities: a row of 3 and a row of 2", "middle")
    return Drawing(
        (Panel(left + rows, 166, f"A mating face with its parts named. {said(face, 'pins')} A pin is a post.", "One half, with pins"),
         Panel(other + rows, 166, f"The other half of the same pair. {said(mirrored(face), 'sockets')} A socket is a hole with a spring inside.", "Its other half, with sockets")),
        "Look into each half with the latch upwards. The two halves of one pair are mirror images: the rib that is left on one is right on the other. "
        "Count the cavities row by row, the empty ones too. Pins are male terminals and sockets female ones, whatever the shell looks like. "
        "The pair is made up to show what to look at.")


def _count(count: int) -> str:
    return COUNTS[count] if count < len(COUNTS) else str(count)


def _listed(names: Sequence[str]) -> str:
    return names[0] if len(names) == 1 else f"{', '.join(names[:-1])} and {names[-1]}"
