"""Clauses for python-sat: named literals, exactly-one groups and gates, kept apart from what they mean here."""

from __future__ import annotations

from typing import Any, Iterable

from pysat.formula import IDPool
from pysat.solvers import Cadical153


class Cnf:
    """A growing set of clauses over named literals."""

    def __init__(self) -> None:
        self.pool = IDPool()
        self.clauses: list[list[int]] = []
        self.true = self.pool.id("true")
        self.add(self.true)

    def var(self, *name: Any) -> int:
        """Return the literal of a name."""
        return self.pool.id(name)

    def known(self, *name: Any) -> bool:
        """Return whether a name has a literal already."""
        return name in self.pool.obj2id

    def add(self, *literals: int) -> None:
        """Add one clause."""
        self.clauses.append(list(literals))

    def exactly_one(self, literals: list[int]) -> None:
        """Say that just one of a few literals holds."""
        self.add(*literals)
        for n, left in enumerate(literals):
            for right in literals[n + 1:]:
                self.add(-left, -right)

    def conj(self, literals: Iterable[int]) -> int:
        """Return a literal that holds exactly when all the others do."""
        some = sorted(set(literals) - {self.true})
        if -self.true in some or any(-one in some for one in some):
            return -self.true
        if not some:
            return self.true
        if len(some) == 1:
            return some[0]
        gate = self.var("and", tuple(some))
        if ("made", gate) not in self.pool.obj2id:
            self.pool.id(("made", gate))
            for one in some:
                self.add(-gate, one)
            self.add(gate, *(-one for one in some))
        return gate

    def disj(self, literals: Iterable[int]) -> int:
        """Return a literal that holds exactly when one of the others does."""
        return -self.conj(-one for one in literals)

    def solver(self) -> Cadical153:
        """Return a solver loaded with every clause."""
        return Cadical153(bootstrap_with=self.clauses)
