"""The fixed words of the pages: verdicts, kinds of source, types of addition and the standing text."""

from __future__ import annotations

VERDICTS = {
    "works": "Works",
    "works-with-additions": "Works with additions",
    "cannot-tell": "Cannot tell yet",
    "will-not-work": "Will not work",
}
SOURCE_KINDS = {
    "published": "published",
    "measured": "measured",
    "common-practice": "common practice",
    "from-memory": "from memory",
    "invented": "invented",
}
SOURCE_MEANS = {
    "published": "A document that can be cited, and somebody read the place.",
    "measured": "Measured by the shop, on the part itself.",
    "common-practice": "What the trade agrees on. There is no single document behind it.",
    "from-memory": "True as far as somebody remembers. Confirm it before money depends on it.",
    "invented": "Made up for the demonstration. No such part exists.",
}
ADDITION_TYPES = {
    "buy": "To buy", "make": "To make", "wire": "To wire", "program": "To program", "set": "To set", "move": "To move",
}
EASE = {
    "ask": "ask somebody", "look": "look", "count": "count", "read": "read a label", "measure": "measure",
    "drive": "drive", "dismantle": "take something apart",
}
IF_UNSAID = {
    "not_sure": "counts as there but unknown when nobody mentions it",
    "maybe": "may or may not be fitted when nobody mentions it",
    "none": "counts as not fitted when nobody mentions it",
}
CHANGEABLE = {
    "whole": "The whole part can be changed for another.",
    "ways": "The part stays; only the way it is used can be changed.",
    "never": "It is a fact of the vehicle and cannot be changed.",
}
PER = {"engine": "one on the engine", "bank": "one on each bank", "cylinder": "one on each cylinder"}
RELATIONS = {
    "came_together": "{parts} came from one donor, unaltered",
    "made_for": "{parts} were made for each other",
    "listed_together": "{parts} are listed as a matched set",
}
OPINION = "This is a compatibility opinion from the facts listed above. It is not a calibration, a road-worthiness approval or legal advice."
BEFORE_WORK = (
    "Before any work: battery negative off, engine cold, fuel pressure released, eyes covered, a fire extinguisher to hand, "
    "and never alone under a car on a jack."
)
QUALIFIED = (
    "If the vehicle's airbag, stability or steering-assist system shares wiring with what you are changing, stop and use a qualified workshop."
)
LAW = "Rules for the road differ from place to place. Ask the authority that inspects your vehicle before you buy."


def mark(verdict: str | None, text: str | None = None) -> str:
    """Return the worded mark of a verdict as HTML on one line; without a verdict, the words alone."""
    words = text or VERDICTS.get(verdict or "", "No verdict")
    if verdict not in VERDICTS:
        return f'<span class="db-verdict db-verdict--none">{words}</span>'
    drawn = f'<svg class="db-mark" aria-hidden="true"><use href="#mark-{verdict}"></use></svg>'
    return f'<span class="db-verdict db-verdict--{verdict}">{drawn}{words}</span>'
