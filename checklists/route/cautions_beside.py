"""The cautions of a day that hold beside its route: none that there is no time for a way which the route takes."""

from __future__ import annotations

from collections.abc import Collection, Iterable

from checklists.lines.records import Caution

NO_TIME = "no-time-to-swap"
"""The rule that says so, before anybody knows of the route."""


def cautions_beside(cautions: Iterable[Caution], by_store: Collection[str]) -> tuple[Caution, ...]:
    """``by_store``: keys of the visits to which the route goes by the store, late or not: there it says so itself."""
    return tuple(
        each
        for each in cautions
        if each.visit not in by_store or all(because.rule != NO_TIME for because in each.because)
    )
