"""What a change of the rules would do to the coming school days: lines it adds, takes away, changes or forbids.

Each day is worked out twice with ``day_on`` from the same opening, once with the rules as they are and once as they
would be, so that what is different comes from the rules alone. Classes go on by one part a visit, as planned. Where
nothing is different within these days, the rest of the plan's year is gone through for the first visit in which a rule
that differs would apply.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import date, timedelta
from typing import Literal

from msgspec import Struct
from msgspec.structs import replace

from checklists.book import Book
from checklists.lines.day import calendar_for, day_on
from checklists.lines.records import Because, Day, Line
from checklists.own_rules.year import different_days, different_rules
from checklists.rules.read import RuleSet
from checklists.words import join_words, plural, say_date

DAYS = 10
"""School days looked at: two weeks."""
MOST_TRIED = 12
"""Days after these that are worked out whole in the search for one that is different."""
MOST_ROWS = 40
"""Changes told one by one; more are counted only. Common practice, no source."""

What = Literal["added", "gone", "more", "less", "forbidden", "allowed", "critical", "not critical"]


class LineChange(Struct, frozen=True):
    """A line that is different on a day. ``before`` and ``after`` are its need; 0 where it is not on the list."""

    date: date
    what: What
    container: str
    """Name of the container."""
    supply: str
    name: str
    before: int
    after: int
    visits: tuple[str, ...]
    """ "V2 3-B" of each visit it is for."""
    private: bool
    """It rests on a child's need alone: not for a public page."""


class OtherChange(Struct, frozen=True):
    """A check, a task, a caution or a decision that is there or not there because of the change."""

    date: date
    what: Literal["added", "gone"]
    kind: Literal["check", "task", "caution", "decision"]
    text: str
    visit: str
    private: bool


class Total(Struct, frozen=True):
    """All there is to a supply over the days: on how many days it is different, and its needs added up."""

    supply: str
    name: str
    days: int
    before: int
    after: int


class Preview(Struct, frozen=True):
    """What would be different. Where nothing is: ``first_later`` is the first day after them that would be, and
    ``counts`` whether rules would count otherwise at all in the year, though the lists stay the same."""

    first: date
    last: date
    school_days: int
    lines: tuple[LineChange, ...]
    others: tuple[OtherChange, ...]
    totals: tuple[Total, ...]
    first_later: date | None = None
    counts: bool = True

    @property
    def is_empty(self) -> bool:
        """Whether nothing is different within these days."""
        return not self.lines and not self.others


def preview_of(book: Book, rules_after: RuleSet, today: date | None = None, days: int = DAYS) -> Preview:
    """What would be different on the ``days`` school days from ``today`` on. Nothing is written or remembered."""
    start = book.today if today is None else today
    calendar = calendar_for(book.plan, book.opening(start), start, None)
    coming = [start, *calendar.school_days_after(start)] if calendar.is_school_day(start) else []
    coming = (coming or list(calendar.school_days_after(start)))[:days]
    lines: list[LineChange] = []
    others: list[OtherChange] = []
    for day in coming:
        before = book.day(day)
        after = day_on(book.plan, rules_after, book.opening(day), day, book.marks(day).changes)
        lines.extend(_line_changes(before, after))
        others.extend(_other_changes(before, after))
    last = coming[-1] if coming else start
    if _tells_of_a_need(book.rules, rules_after):
        lines = [replace(each, private=True) for each in lines]
        others = [replace(each, private=True) for each in others]
    if not lines and not others:
        later, counts = _later_difference(book, rules_after, start, last)
        return Preview(start, last, len(coming), (), (), (), later, counts)
    return Preview(start, last, len(coming), tuple(lines), tuple(others), _totals(lines))


def _tells_of_a_need(before: RuleSet, after: RuleSet) -> bool:
    """Whether what is changed rests on a need: then each class it would change something for tells of it."""
    changed = different_rules(before, after)
    return any(rule.private and rule.id in changed for rule in (*before.rules, *after.rules))


def _later_difference(book: Book, rules_after: RuleSet, start: date, last: date) -> tuple[date | None, bool]:
    """The first day after ``last`` whose list would be different, and whether rules would count otherwise at all.

    From ``start`` to ``last`` nothing is different. Of a grade each part of a lesson is tried once, and no more than
    ``MOST_TRIED`` days are.
    """
    seen: set[tuple[str, str, int]] = set()
    counts, tried = False, 0
    for planned, counting in different_days(book, rules_after, start):
        counts = True
        if planned.date > last and not counting <= seen:
            tried += 1
            before = day_on(book.plan, book.rules, planned.state, planned.date)
            if differs(before, day_on(book.plan, rules_after, planned.state, planned.date)):
                return planned.date, True
        if tried == MOST_TRIED:
            break
        seen |= counting
    return None, counts


def differs(before: Day, after: Day) -> bool:
    """Whether anything of a day that is told here is different."""
    return any(_line_changes(before, after)) or any(_other_changes(before, after))


def _line_changes(before: Day, after: Day) -> Iterator[LineChange]:
    old = {line.key: line for line in before.lines}
    new = {line.key: line for line in after.lines}
    for key in [*old, *(key for key in new if key not in old)]:
        was, will = old.get(key), new.get(key)
        if (what := _what(was, will)) is None:
            continue
        line = will or was
        assert line is not None
        day = after if will is not None else before
        names = {visit.key: f"{visit.name} {visit.class_id}" for visit in day.visits}
        containers = {each.id: each.name for each in (*before.containers, *after.containers)}
        yield LineChange(
            date=after.date,
            what=what,
            container=containers.get(line.container, line.container),
            supply=line.supply,
            name=line.name,
            before=0 if was is None else was.need,
            after=0 if will is None else will.need,
            visits=tuple(names.get(each, each) for each in line.visits),
            private=_is_private(line.because),
        )


def _what(was: Line | None, will: Line | None) -> What | None:
    if was is None:
        return "forbidden" if will is not None and will.forbidden else "added"
    if will is None:
        return "gone"
    if bool(was.forbidden) != bool(will.forbidden):
        return "forbidden" if will.forbidden else "allowed"
    if was.need != will.need:
        return "more" if will.need > was.need else "less"
    if was.critical != will.critical:
        return "critical" if will.critical else "not critical"
    return None


def _other_changes(before: Day, after: Day) -> Iterator[OtherChange]:
    old, new = _others_of(before), _others_of(after)
    for key in [*old, *(key for key in new if key not in old)]:
        if key in old and key in new:
            continue
        kind, text, visit, private = old[key] if key in old else new[key]
        yield OtherChange(after.date, "gone" if key in old else "added", kind, text, visit, private)


_Other = tuple[Literal["check", "task", "caution", "decision"], str, str, bool]


def _others_of(day: Day) -> dict[tuple[str, str], _Other]:
    names = {visit.key: f"{visit.name} {visit.class_id}" for visit in day.visits}
    found: dict[tuple[str, str], _Other] = {}
    for check in day.checks:
        found[check.key, check.what] = "check", check.what, names.get(check.visit, ""), _is_private(check.because)
    for task in day.tasks:
        found[task.key, task.what] = "task", task.what, task.class_id, _is_private(task.because)
    for caution in day.cautions:
        said = names.get(caution.visit, "")
        found[caution.key, caution.what] = "caution", caution.what, said, _is_private(caution.because)
    for decision in day.decisions:
        said = names.get(decision.visit, "")
        found[decision.key, decision.text] = "decision", decision.text, said, _is_private(decision.because)
    return found


def _is_private(because: Iterable[Because]) -> bool:
    every = tuple(because)
    return bool(every) and all(each.private for each in every)


def _totals(lines: Iterable[LineChange]) -> tuple[Total, ...]:
    found: dict[str, Total] = {}
    for each in lines:
        so_far = found.get(each.supply, Total(each.supply, each.name, 0, 0, 0))
        found[each.supply] = Total(
            each.supply, each.name, so_far.days + 1, so_far.before + each.before, so_far.after + each.after
        )
    return tuple(found.values())


# ---------------------------------------------------------------------------------------------------- in words


def say_preview(preview: Preview, *, private: bool = False) -> tuple[str, ...]:
    """What would be different, one sentence a row: the whole first, then day by day."""
    span = f"{say_date(preview.first)} to {say_date(preview.last)}"
    if preview.is_empty:
        return (f"In these two weeks ({span}) nothing is different.", _say_later(preview))
    rows = [f"From {span}, {plural(preview.school_days, 'school day')}:"]
    shown = [each for each in preview.lines if private or not each.private]
    rows += [_say_total(each) for each in _totals(shown)]
    told = [_say_line(each) for each in shown]
    told += [_say_other(each) for each in preview.others if private or not each.private]
    rows += told[:MOST_ROWS]
    if len(told) > MOST_ROWS:
        rows.append(f"and {len(told) - MOST_ROWS} more like these")
    hidden = len(preview.lines) + len(preview.others) - len(told)
    if hidden:
        rows.append(f"{plural(hidden, 'change')} left out as private; --private shows the whole.")
    return tuple(rows)


def _say_later(preview: Preview) -> str:
    if preview.first_later is None and preview.counts:
        return "Where it counts, the lists are the same with it and without."
    if preview.first_later is None:
        return "Nor is anything in the rest of the year as it is planned."
    first = preview.first_later
    monday = first - timedelta(first.weekday())
    return f"The first difference is in the week of {say_date(monday)}, on {say_date(first)}."


def _say_total(total: Total) -> str:
    return f"{total.name}: {total.before} -> {total.after} in all, on {plural(total.days, 'line')}"


def _say_line(change: LineChange) -> str:
    visits = join_words(change.visits)
    where = f"{say_date(change.date)}, {change.container}"
    match change.what:
        case "added":
            return f"{where}: {change.after} {change.name}, new ({visits})"
        case "gone":
            return f"{where}: no {change.name} any more, {change.before} less ({visits})"
        case "forbidden":
            return f"{where}: {change.name} must not come along ({visits})"
        case "allowed":
            return f"{where}: {change.name} may come along ({visits})"
        case "critical" | "not critical":
            return f"{where}: {change.name} is {change.what} ({visits})"
    return f"{where}: {change.name} {change.before} -> {change.after} ({visits})"


def _say_other(change: OtherChange) -> str:
    kind = change.kind if change.what == "added" else f"{change.kind} less"
    whom = f" ({change.visit})" if change.visit else ""
    return f"{say_date(change.date)}: {kind}: {change.text}{whom}"
