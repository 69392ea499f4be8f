"""Sets the difference of two answers out as plain text."""

from __future__ import annotations

from typing import Any

from build_tools.answer_text import VERDICT_WORDS

NO_VERDICT = "no verdict"


def compare_text(difference: dict[str, Any]) -> str:
    """Return what differs, the verdict first; one sentence when nothing does."""
    if difference["same"]:
        return "The two builds get the same answer."
    verdict = difference["verdict"]
    lines = [
        f"{_words(verdict['before'])} -> {_words(verdict['after'])}"
        if verdict["before"] != verdict["after"]
        else f"The verdict stays: {_words(verdict['after'])}.",
        f"  {verdict['headline']}",
    ]
    lines += _moved("Subjects", difference["subjects"])
    lines += _reasons(difference["reasons"])
    for title, key in (("To add", "additions"), ("Stops", "stops"), ("To find out", "questions")):
        found = [f"  new: {text}" for text in difference[key]["new"]]
        found += [f"  gone: {text}" for text in difference[key]["gone"]]
        lines += ["", title, *found] if found else []
    sums = [f"  {one['title']}: {one['before'] or 'not there'} -> {one['after'] or 'not there'}" for one in difference["sums"]]
    return "\n".join(lines + (["", "Sums", *sums] if sums else []))


def _words(verdict: str | None) -> str:
    return VERDICT_WORDS.get(verdict or "", NO_VERDICT)


def _moved(title: str, entries: list[dict[str, Any]]) -> list[str]:
    found = [f"  {one['title']}: {_words(one['before'])} -> {_words(one['after'])}" for one in entries]
    return ["", title, *found] if found else []


def _reasons(entries: list[dict[str, Any]]) -> list[str]:
    lines: list[str] = []
    for one in entries:
        lines.append(f"  {one['title']}")
        for mark, texts in (("before", one["was"]), ("after", one["now"])):
            verdict = _words(one[mark])
            said = "not in question" if texts is None else verdict if not texts else texts[0] if len(texts) == 1 else f"{len(texts)} ways it may come out"
            lines.append(f"    {mark}: {said}")
    return ["", "Reasons", *lines] if lines else []
