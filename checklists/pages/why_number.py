"""How a line's number came about, and the minutes, dates and places of everything else, in sentences."""

from __future__ import annotations

from collections.abc import Iterator

from checklists.daybook.line_states import has_now, is_settled, left_to_take, state_of
from checklists.daybook.marks import Marks
from checklists.lines.quantities import round_up
from checklists.lines.records import Caution, Check, Day, Decision, Line, Matter, TakeOut, Task
from checklists.pages.reasons import Thing, say_forbidden
from checklists.words import join_words, plural, say_date, say_number

_MATTERS = {
    "short": "It came up short and has not been filled up since.",
    "not put right": "The kit was used and not put right since.",
    "left in a room": "It stayed in a room and was not fetched since.",
    "catch-up not handed out": "It was packed for children who had missed a part, and was not handed out.",
    "preparation": "It was to be prepared and is not done.",
    "count pending": "It was counted out, and nobody has said how many came back.",
    "new child": "A child has joined the class in the middle of its lesson.",
    "left the class": "A child has left the class, and its unfinished work lies among that of the others.",
    "packed": "It was packed for a day on which school did not take place.",
    "work away": "Work of the class hangs on a wall and is not in its folder.",
}
"""Why a carried matter is there, by its kind."""


def say_how(thing: Thing, day: Day, marks: Marks, private: bool) -> tuple[str, ...]:
    """How the number of a thing came about, or its minutes and dates: a sentence each."""
    if isinstance(thing, Line):
        return tuple(_of_line(thing, day, marks, private))
    if isinstance(thing, Task):
        return _of_task(thing, day, marks)
    if isinstance(thing, Check):
        where = "At the store, before leaving" if thing.at == "store" else "In the room"
        return (f"{where}{_for_visit(thing.visit, day)}. {_say_done(thing.key, marks)}{_say_critical(thing.critical)}",)
    if isinstance(thing, Caution):
        shown = "It is shown once for this class and lesson, then only counted." if thing.is_new else "Shown before."
        grave = "Unsafe as things are: it shows until that has changed." if thing.critical else shown
        return (f"A caution{_for_visit(thing.visit, day)}. {grave}",)
    if isinstance(thing, TakeOut):
        return tuple(_of_take_out(thing, marks))
    if isinstance(thing, Decision):
        ways = join_words((each.label for each in thing.offers), "or")
        return (f"Nothing is packed{_for_visit(thing.visit, day)} until one is chosen: {ways}.",)
    return _of_matter(thing, day, marks)


def _of_task(task: Task, day: Day, marks: Marks) -> tuple[str, ...]:
    place = f", {task.place}" if task.place else ""
    whom = f" for {task.class_id}" if task.class_id else ""
    needed = f"{plural(task.minutes, 'minute')}, due {say_date(task.due)}{place};{whom} on {say_date(task.for_date)}."
    late = " It is late." if task.due < day.date and not is_settled(task.key, marks) else ""
    return (f"{needed}{late} {_say_done(task.key, marks)}{_say_critical(task.critical)}".strip(),)


def _of_take_out(take_out: TakeOut, marks: Marks) -> Iterator[str]:
    left = left_to_take(take_out, marks)
    shelf = f" It goes back to shelf {take_out.shelf}." if take_out.shelf else ""
    yield f"{take_out.count} that no coming visit needs; {f'{left} still in it' if left else 'taken out'}.{shelf}"


def _of_matter(matter: Matter, day: Day, marks: Marks) -> tuple[str, ...]:
    age = f", {plural(matter.school_days, 'school day')} ago" if matter.school_days else ""
    said = [
        f"Carried over since {say_date(matter.since)}{age}{_for_visit(matter.before_visit, day, ', needed before ')}."
    ]
    said.append(_MATTERS.get(matter.kind, "It was left unfinished."))
    if matter.stale:
        said.append("It has been carried for long: do it, let it go, or give it a date.")
    if is_settled(matter.key, marks):
        said.append("Seen to today.")
    return tuple(said)


def _for_visit(key: str, day: Day, before: str = " for ") -> str:
    visit = next((each for each in day.visits if each.key == key), None)
    return f"{before}{visit.name} {visit.class_id}" if visit is not None else ""


def _say_done(key: str, marks: Marks) -> str:
    return "Seen to already. " if is_settled(key, marks) else ""


def _say_critical(critical: bool) -> str:
    return "Critical: without it the lesson cannot start or is unsafe." if critical else ""


# ------------------------------------------------------------------------------------------------------- a line


def _of_line(line: Line, day: Day, marks: Marks, private: bool) -> Iterator[str]:
    if line.forbidden:
        said = say_forbidden(line, private)
        yield said[:1].upper() + said[1:]
    if line.need:
        yield f"Needed today: {'about ' if line.about else ''}{line.need}. {_sum_of(line, day)}".strip()
    else:
        yield "Today needs none of it."
    if line.ahead:
        also = f": also {join_words(line.later)}" if line.later else ""
        yield f"For later visits: {line.ahead} more{also}."
    if line.sets:
        yield f"On the tables: {line.sets}."
    yield _in_it(line, marks)
    if line.stays_in_work:
        yield "It stays in the children's work until the lesson's last part."
    if line.catch_up_for:
        yield f"It is for the children of {line.catch_up_for} who missed a part or are not done."
    marked = [
        "critical: without it the lesson cannot start or is unsafe" if line.critical and line.need else "",
        "counted out and back" if line.counted else "",
    ]
    said = "; ".join(each for each in marked if each)
    if said:
        yield f"{said[:1].upper()}{said[1:]}."
    where = f"{_shelf_of(line, day)} " if line.shelf else ""
    if line.on_shelf is not None:
        there = f"About {line.on_shelf} are" if line.on_shelf else "None is"
        where += f"{there} at the store outside containers{say_counted(line)}."
    if where:
        yield where.strip()


def say_counted(line: Line) -> str:
    """When the stock that the number rests on was counted."""
    return f"; all of it was counted on {say_date(line.counted_on)}" if line.counted_on is not None else ""


def _shelf_of(line: Line, day: Day) -> str:
    container = next((each for each in day.containers if each.id == line.container), None)
    lives_there = container is not None and line.shelf.casefold() == container.name.casefold()
    return "It lives in the kit." if lives_there else f"Taken from shelf {line.shelf}."


def _in_it(line: Line, marks: Marks) -> str:
    has = has_now(line, marks)
    missing = max(0, line.need + line.ahead - has)
    was = f" ({line.in_it} when the day opened)" if has != line.in_it else ""
    state = state_of(line, marks)
    if state == "not needed":
        return f"In it: {has}{was}; crossed off for today."
    if state == "forbidden":
        return f"In it: {has}{was}; {'take it out' if has else 'nothing of it may be put in'}."
    return f"In it: {has}{was}; {f'{missing} to add' if missing else 'nothing to add'}."


def _sum_of(line: Line, day: Day) -> str:
    """ "V2 3-ash takes 21 and V3 3-elm 20, which add up to 41; 5 more are spare or in reserve."."""
    names = {visit.key: f"{visit.name} {visit.class_id}" for visit in day.visits}
    uses = [use for use in line.uses if use.visit in names]
    if not uses:
        return ""
    adds_up = not line.comes_back or line.stays_in_work
    sums = round_up(sum(use.amount for use in uses)) if adds_up else round_up(max(use.amount for use in uses))
    said = join_words(
        f"{names[use.visit]} {'' if at else 'takes '}{say_number(use.amount)}" for at, use in enumerate(uses)
    )
    if len(uses) > 1:
        said += f", which add up to {sums}" if adds_up else "; it comes back, so the largest visit counts"
    more = line.need - sums
    said += f"; {more} more {'is' if more == 1 else 'are'} spare or in reserve" if more > 0 else ""
    return f"{said}."
