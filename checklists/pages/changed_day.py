"""What follows from a change of a day, as plain text and as fields for scripts."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from datetime import date

from checklists.daybook.day_change import DayChange, LineChange
from checklists.daybook.marks import Marks
from checklists.daybook.minutes_left import LeaveBy
from checklists.lines.containers import name_of
from checklists.lines.records import Caution, Day, Decision, Visit
from checklists.pages.fields import Fields, decision_fields, visit_fields
from checklists.pages.plain import ruled, wrap
from checklists.pages.reasons import is_hidden
from checklists.plan.records import Plan
from checklists.words import clock, join_words, plural, say_date, say_room

DECIDE = "DECIDE"
"""The section under which stands what to type for each way out."""
ComesAgain = Mapping[str, date | None]
"""Class -> the date of its next visit; None where the year holds none."""


def change_page(
    plan: Plan,
    after: Day,
    change: DayChange,
    said: str,
    what_then: Iterable[str],
    comes_again: ComesAgain,
    route: tuple[str, ...],
    leave_by: LeaveBy | None,
) -> str:
    """``said`` is the change in words, ``what_then`` further sentences about the day and the ones after it.

    ``route`` is what she does otherwise on her way round, ``leave_by`` when to set out.
    """
    parts = [f"{say_date(after.date)}: {said}", *(row for each in what_then for row in wrap(each))]
    for title, rows in change_sections(plan, after, change, comes_again, route):
        parts += ["", ruled(title), *(row for each in rows for row in wrap(each, first="  ", indent=4))]
        if title == DECIDE:
            typed = [each for decision in change.decisions for each in _typed_for(decision, after)]
            parts += [row for each in typed for row in wrap(each, first="  ", indent=4)]
    parts += [row for each in change_notes(after, change, leave_by) for row in ("", *wrap(each))]
    if change.numbers_changed:
        parts += wrap("Some lines and visits have other numbers now: look at trundle morning before you tick.")
    parts += wrap(f"trundle undo --date {after.date.isoformat()} takes the change back.")
    return "\n".join(parts) + "\n"


def change_sections(
    plan: Plan, after: Day, change: DayChange, comes_again: ComesAgain, route: tuple[str, ...]
) -> tuple[tuple[str, tuple[str, ...]], ...]:
    """What follows from a change, under headings; those with nothing under them are left out."""
    sections: tuple[tuple[str, Iterable[str]], ...] = (
        ("FALLS OUT", (_say_out(each, after, comes_again) for each in change.visits_out)),
        ("COMES IN", (_say_in(each) for each in change.visits_in)),
        ("AT ANOTHER TIME", (_say_time(each) for each in change.other_times)),
        ("ANOTHER ROOM", (_say_room(was, now) for was, now in change.other_rooms)),
        ("OTHER NUMBERS", (_say_children(was, now) for was, now in change.other_children)),
        ("ANOTHER LESSON", (_say_lesson(plan, now) for _, now in change.other_lessons)),
        (DECIDE, (f"{_whom(each, after)}: {each.text}" for each in change.decisions)),
        ("THE ROUTE", route),
        ("TAKE OUT", _by_container(plan, change, _say_take_out)),
        ("PUT IN", _by_container(plan, change, _say_put_in)),
        ("KEEP", _kept(plan, change)),
        ("NEEDED NOW", _by_container(plan, change, _say_need)),
        ("LOOK", (each.what for each in shown_cautions(change))),
    )
    told = ((title, tuple(rows)) for title, rows in sections)
    return tuple((title, rows) for title, rows in told if rows)


def change_notes(after: Day, change: DayChange, leave_by: LeaveBy | None) -> tuple[str, ...]:
    """What stays at the store, and when to set out."""
    said: list[str] = []
    if change.containers_out and after.visits:
        names = join_words(each.name for each in change.containers_out)
        said.append(f"Not needed any more: {names}. What is in there stays in there.")
    if change.half_slots_free:
        free = plural(change.half_slots_free, "half slot")
        said.append(f"{free} of the cart free for the morning's load.")
    if leave_by is not None:
        said.append(f"{leave_by.words}.")
    return tuple(said)


def change_fields(
    before: Day, after: Day, change: DayChange, marks: Marks, next_day: str, comes_again: ComesAgain
) -> Fields:
    """What the page "change" has beside the common fields.

    ``day`` and ``bells`` of the date now; ``next_school_day`` and its timetable day ``next_day`` ("" at the year's
    end); ``visits_out`` (as a visit, with ``next``: the date the class comes again, or null), ``visits_in``,
    ``other_times``, ``other_rooms`` (with ``room_before``); ``containers_out`` and ``containers_in`` (ids); ``lines``:
    ``key number container name need_before need has take_out put_in``, ``number`` null and ``need`` 0 where the line is
    gone; ``cautions`` in words, new ones only; ``numbers_changed``; ``other_children`` (visits that stay, with
    ``adults`` and ``students_before adults_before``); ``other_lessons`` (visits that stay, with ``steps_before``);
    ``decisions``, new ones; ``slots_free`` of the cart for the morning's load, null where no container stays behind;
    ``route`` in words, what is otherwise on the way round.
    """
    following = after.next_school_day
    out = [(each, comes_again.get(each.class_id)) for each in change.visits_out]
    return {
        "day": after.day_name,
        "bells": after.bells,
        "next_school_day": following.isoformat() if following is not None else None,
        "next_day": next_day,
        "visits_out": [
            {**visit_fields(each, before, marks), "next": again.isoformat() if again is not None else None}
            for each, again in out
        ],
        "visits_in": [visit_fields(each, after, marks) for each in change.visits_in],
        "other_times": [visit_fields(each, after, marks) for each in change.other_times],
        "other_rooms": [
            {**visit_fields(now, after, marks), "room_before": was.room} for was, now in change.other_rooms
        ],
        "containers_out": [each.id for each in change.containers_out],
        "containers_in": [each.id for each in change.containers_in],
        "lines": [_line_fields(each) for each in change.lines],
        "cautions": [each.what for each in shown_cautions(change)],
        "numbers_changed": change.numbers_changed,
        "other_children": [
            {
                **visit_fields(now, after, marks),
                "adults": now.adults,
                "students_before": was.students,
                "adults_before": was.adults,
            }
            for was, now in change.other_children
        ],
        "other_lessons": [
            {
                **visit_fields(now, after, marks),
                "steps_before": [{"lesson": each.lesson, "part": each.part} for each in was.steps],
            }
            for was, now in change.other_lessons
        ],
        "slots_free": change.half_slots_free / 2 if change.half_slots_free is not None else None,
        "decisions": [decision_fields(each, private=False) for each in change.decisions],
    }


def shown_cautions(change: DayChange) -> list[Caution]:
    """The new cautions that may be shown to anybody."""
    return [each for each in change.cautions if not is_hidden(each, private=False)]


def _line_fields(change: LineChange) -> Fields:
    return {
        "key": change.line.key,
        "number": change.line.number if change.need_now else None,
        "container": change.line.container,
        "name": change.line.name,
        "need_before": change.need_before,
        "need": change.need_now,
        "has": change.has,
        "take_out": change.take_out,
        "put_in": change.put_in,
    }


def _say_out(visit: Visit, after: Day, comes_again: ComesAgain) -> str:
    host = next((each for each in after.visits if visit.class_id in each.classes), None)
    if host is not None and host.class_id != visit.class_id:
        goes_on = "goes on with it" if visit.class_id in host.go_on_too else "stays at its own part"
        return f"{visit.name} {visit.class_id}: taught together with {host.class_id} in {host.name}; it {goes_on}"
    again = comes_again.get(visit.class_id)
    when = f"comes again on {say_date(again)}" if again is not None else "does not come again this year"
    return f"{visit.name} {visit.class_id}, {visit.period} {clock(visit.start)}, {say_room(visit.room)}: {when}"


def _say_in(visit: Visit) -> str:
    return f"{visit.name} {visit.class_id}, {visit.period} {clock(visit.start)}, {say_room(visit.room)}"


def _say_time(visit: Visit) -> str:
    minutes = plural(visit.minutes, "minute")
    times = f"{clock(visit.start)}-{clock(visit.end)}, {minutes}"
    return f"{visit.name} {visit.class_id}, {visit.period}: {times}, {say_room(visit.room)}"


def _say_room(was: Visit, now: Visit) -> str:
    way = plural(now.walk_before, "minute")
    return f"{now.name} {now.class_id}: {say_room(now.room)} instead of {say_room(was.room)}, {way} on the way there"


def _say_children(was: Visit, now: Visit) -> str:
    said: list[str] = []
    if was.students != now.students:
        of = join_words(f"{each.count} of {each.of}" for each in (*now.guests, *now.joined))
        said.append(f"{plural(now.students, 'child')} instead of {was.students}" + (f", {of} among them" if of else ""))
    if was.adults != now.adults:
        said.append(f"{plural(now.adults, 'adult')} instead of {was.adults}")
    return f"{now.name} {now.class_id}, {say_room(now.room)}: {', '.join(said)}"


def _say_lesson(plan: Plan, now: Visit) -> str:
    lessons = [plan.lesson_by_id[step.lesson] for step in now.steps]
    taught = join_words(
        (f"{each.title}, part {step.part}" for each, step in zip(lessons, now.steps, strict=True)), "or"
    )
    stays = "" if now.moves_on else "; the class stays at its own part"
    if now.next_part:
        stays = f"; part {now.next_part} stays next"
    return f"{now.name} {now.class_id}: {taught or 'no lesson'}{stays}"


def _whom(decision: Decision, after: Day) -> str:
    return next((f"{each.name} {each.class_id}" for each in after.visits if each.key == decision.visit), "")


def _typed_for(decision: Decision, after: Day) -> list[str]:
    """What to type for each way out of what is to be decided."""
    words = " ".join([_whom(decision, after), *decision.text.replace('"', "").split()[:3]])
    on = f"--date {after.date.isoformat()}"
    return [f'trundle answer "{words}" "{each.label}" {on}' for each in decision.offers]


def _kept(plan: Plan, change: DayChange) -> list[str]:
    """What is ticked and stays so, of the containers in which anything is different."""
    touched = {each.line.container for each in change.lines if each.take_out or each.put_in}
    rows: dict[str, list[str]] = {}
    for line in change.kept:
        if line.container in touched:
            kit = f" (catch-up kit of {line.catch_up_for})" if line.catch_up_for else ""
            rows.setdefault(line.container, []).append(f"{line.need} {line.name}{kit}")
    return [f"{name_of(plan, container)}: {'; '.join(words)}" for container, words in rows.items()]


def _by_container(plan: Plan, change: DayChange, say_one: Callable[[LineChange], str]) -> list[str]:
    """One row for each container, with what is said of its lines."""
    rows: dict[str, list[str]] = {}
    for each in change.lines:
        words = say_one(each)
        if words:
            rows.setdefault(each.line.container, []).append(words)
    return [f"{name_of(plan, container)}: {'; '.join(words)}" for container, words in rows.items()]


def _name(change: LineChange) -> str:
    line = change.line
    return f"{line.name} (catch-up kit of {line.catch_up_for})" if line.catch_up_for else line.name


def _say_take_out(change: LineChange) -> str:
    if not change.take_out:
        return ""
    left = f" ({change.need_now} are needed)" if change.need_now else ""
    return f"{change.take_out} {_name(change)}{left}"


def _say_put_in(change: LineChange) -> str:
    if not change.put_in:
        return ""
    has = f" (need {change.need_now}, has {change.has})" if change.has else ""
    return f"{change.put_in} {_name(change)}{has}"


def _say_need(change: LineChange) -> str:
    """A need that changed without anything to take out or to put in."""
    if change.take_out or change.put_in or not change.need_before:
        return ""
    if not change.need_now:
        return f"no {_name(change)}"
    return f"{change.need_now} {_name(change)} instead of {change.need_before}"
