"""What is too heavy for its box goes into pails: one line for each, to be packed and lifted by itself."""

from __future__ import annotations

from collections.abc import Sequence
from math import ceil

from msgspec import structs

from checklists.daybook.state import State
from checklists.lines.containers import CART
from checklists.lines.loads import grams_in, grams_of
from checklists.lines.records import Line, Use
from checklists.plan.records import Plan


def into_pails(plan: Plan, state: State, lines: Sequence[Line]) -> tuple[Line, ...]:
    """The lines, with the heaviest consumed ones of a box over her limit split until it is within it.

    Limits are ``habits.box_limit_kg`` and ``habits.pail_kg``; masses that are not known count as nothing.
    """
    split: dict[str, int] = {}
    for container in dict.fromkeys(line.container for line in lines):
        over = grams_in(plan, state, container, lines) - plan.school.habits.box_limit_kg * 1000
        if container == CART or over <= 0:
            continue
        for line in sorted(
            (line for line in lines if line.container == container), key=lambda each: -grams_of(plan, each)
        ):
            pails = _pails_for(plan, line)
            if (
                over <= 0
                or pails < 2
                or line.comes_back
                or line.catch_up_for
                or line.forbidden
                or line.need + line.ahead < pails
            ):
                continue
            split[line.key] = pails
            over -= grams_of(plan, line)
    return tuple(each for line in lines for each in _pails_of(line, split.get(line.key, 1)))


def _pails_for(plan: Plan, line: Line) -> int:
    """How many pails none of which is heavier than it may be, one piece at least in each."""
    count, grams = max(line.need + line.ahead, line.in_it), grams_of(plan, line)
    if not grams:
        return 1
    in_one = max(1, int(plan.school.habits.pail_kg * 1000 * count / grams + 1e-6))
    return ceil(count / in_one)


def _pails_of(line: Line, pails: int) -> tuple[Line, ...]:
    """The line in equal pails, today's need in the first ones."""
    if pails < 2:
        return (line,)
    each, more = divmod(line.need + line.ahead, pails)
    made: list[Line] = []
    before = 0
    for n in range(1, pails + 1):
        size, is_last = each + (1 if n <= more else 0), n == pails
        need = min(size, max(0, line.need - before))
        made.append(
            structs.replace(
                line,
                key=f"{line.key}/pail {n}",
                name=f"{line.name}, pail {n} of {pails}",
                need=need,
                ahead=size - need,
                in_it=in_pail(line.in_it, before, size, is_last),
                critical=line.critical and need > 0,
                uses=tuple(_use_of_pail(line.uses, before, size, is_last)),
                pail=n,
                before_pail=before,
                is_last_pail=is_last,
            )
        )
        before += size
    return tuple(made)


def in_pail(held: int, before: int, size: int, is_last: bool) -> int:
    """How many of ``held`` are in a pail: pails are filled one after the other, and the last one has the rest."""
    left = max(0, held - before)
    return left if is_last else min(left, size)


def _use_of_pail(uses: Sequence[Use], before: int, size: int, is_last: bool) -> list[Use]:
    """What each visit takes out of a pail: they empty them one after the other."""
    found: list[Use] = []
    used = 0.0
    for use in uses:
        start, end = max(used, before), used + use.amount
        end = end if is_last else min(end, before + size)
        if end > start:
            found.append(structs.replace(use, amount=end - start))
        used += use.amount
    return found
