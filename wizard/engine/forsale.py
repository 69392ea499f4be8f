"""Of equally good choices, one whose parts the shop sells: what is to be bought must be for sale."""
from __future__ import annotations

from typing import Any

from .decision import Choice, choice_for_all, with_fewer_additions
from .model import ADDITIONS, Book
from .question import Question
from .tables import propagate


def sold(book: Book, family: str | None) -> bool:
    """Whether a listed part has a stock number or a price."""
    record: dict[str, Any] = book.data["families"].get(family or "") or {}
    return record.get("stock") is not None or record.get("price") is not None


def prefer_sold(q: Question, choice: Choice, worst: int) -> Choice:
    """A choice no worse for any unknown with parts that are for sale in the open slots, as far as there is one."""
    wanted: dict[int, int] = {}
    unsold = False
    for slot in sorted(q.space.free):
        p = q.space.part[slot]
        mask = sum(1 << i for i, c in enumerate(q.space.candidates[slot]) if c.kind == "family" and sold(q.book, c.family))
        if p in choice.made and q.dom[p] & mask:
            wanted[p] = mask
            unsold = unsold or bool(choice.made[p] & ~mask)
    if not unsold:
        return choice
    for narrow in (wanted, *({p: m} for p, m in sorted(wanted.items()) if choice.made[p] & ~m)):
        dom = [d & narrow.get(v, d) for v, d in enumerate(q.dom)]
        if propagate(dom, q.base, [t for p in narrow for t in q.base.watch.get(p, ())]):
            inside = q._replace(dom=tuple(dom), memo={"base": q.base})
            found, _ = choice_for_all(inside, worst)
            if found is not None:
                return with_fewer_additions(inside, found) if worst == ADDITIONS else found
    return choice
