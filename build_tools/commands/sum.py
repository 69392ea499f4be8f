"""donorbook sum: works out one calculation from inputs given on the command line."""

from __future__ import annotations

from argparse import Namespace
from typing import Any

from build_tools.commands.common import OK, Refused, print_lines


def run(options: Namespace) -> int:
    """Print the result of a calculation, or what it takes; a refusal goes to --json too, and stops with its words."""
    try:
        from wizard.sums.forms.text import sum_text
        from wizard.sums.forms.registry import REGISTRY
        from wizard.sums.forms.shapes import Refusal
        from wizard.sums.forms.work import work_out
    except ImportError as error:
        raise Refused(f"The calculations cannot be loaded: {error}.") from None
    if options.name is None:
        width = max(len(name) for name in REGISTRY)
        print_lines(f"{name:{width}}  {REGISTRY[name].title}" for name in sorted(REGISTRY))
        return OK
    inputs: dict[str, str] = {}
    for text in options.inputs:
        name, mark, value = text.partition("=")
        if not mark or not name or name in inputs:
            raise Refused(f"'{text}' is not an input. Write each once, as name=value.")
        inputs[name] = value
    found = work_out(options.name, inputs)
    if options.json:
        print_lines([sum_text(options.name, inputs)])
    if isinstance(found, Refusal):
        raise Refused(found.text)
    if not options.json:
        print_lines(_lines(found))
    return OK


def _lines(found: Any) -> list[str]:
    lines = [f"{found.title}: {_both(found.shown, found.shown_other)}", f"  {found.formula}"]
    lines += [f"  {line.title}: {_both(line.shown, line.shown_other)}" for line in found.inputs]
    if found.shown_low != found.shown_high:
        span = _both(f"{found.shown_low} to {found.shown_high}", found.other_low and f"{found.other_low} to {found.other_high}")
        lines.append(f"  With these inputs exact, it lies within {span}")
    if found.tells:
        lines.append(f"  {found.tells}")
    if found.band:
        lines.append(f"  {found.band.where}: {found.band.says}")
    lines += [f"  {note}" for note in found.notes]
    return lines + [f"  Source ({kind.replace('-', ' ')}): {text}" for kind, text in found.sources]


def _both(shown: str, other: str) -> str:
    return f"{shown} ({other})" if other else shown
