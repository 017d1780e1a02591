"""The pages as JSON objects for scripts. These fields stay as they are; new ones may be added.

Common to all: ``format`` is 1; ``page`` names the page; ``date`` is an ISO date, "2026-10-05"; times of day are written
as in the plan files, "8:05" or "13:15", and null where there is none; counts are whole numbers; ids, keys and numbers
are those of the plan, the daybook and the paper. ``problems`` are those of the plan and rule files at the time.
Reasons that tell of a child's need, and tasks, checks and cautions that do nothing else, are left out unless they were
asked for; ``private_left_out`` says how many. The objects inside the pages are in ``fields``.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING, Any

from checklists.daybook.cases import cases_now
from checklists.daybook.counts_pending import counts_pending
from checklists.daybook.fetching import to_fetch
from checklists.daybook.lending import loans_now
from checklists.daybook.line_states import is_critical, open_lines
from checklists.daybook.marks import Marks
from checklists.daybook.minutes_left import LeaveBy, minutes_until, packing_minutes_left
from checklists.daybook.said_of_cases import say_case
from checklists.lines.records import Caution, Check, Day, Decision, Line, Matter, TakeOut, Task
from checklists.pages.fields import (
    Fields,
    caution_fields,
    check_fields,
    container_fields,
    decision_fields,
    line_fields,
    matter_fields,
    problem_fields,
    take_out_fields,
    task_fields,
    visit_fields,
)
from checklists.pages.lending import lent_fields
from checklists.pages.reasons import Explained, Thing, is_hidden, reasons_of
from checklists.plan.records import Plan
from checklists.problems import Problem
from checklists.route.cautions_beside import cautions_beside
from checklists.words import clock

if TYPE_CHECKING:
    from checklists.asking import Asked
    from checklists.daybook.matters import OpenMatter
    from checklists.pages.why import Why
    from checklists.route.departure import Departure, ToLeave

FORMAT = 1


def asked_fields(asked: Asked, day: Day) -> Fields:
    """A question about a fact, as one about a visit."""
    class_id = next(each.class_id for each in day.visits if each.key == asked.visit)
    of_room = {"room": asked.room, "fact": asked.fact} if asked.room else {}
    about = "room" if asked.room else "class"
    named = {"key": asked.key, "date": day.date.isoformat(), "visit": asked.visit, "class": class_id}
    return {**named, "text": asked.text, "about": about, **of_room}


def day_as_json(
    plan: Plan,
    day: Day,
    marks: Marks,
    at: int | None,
    departure: Departure,
    problems: Iterable[Problem] = (),
    *,
    private: bool = False,
    facts: Sequence[Asked] = (),
) -> Fields:
    """The page "morning".

    ``school``; ``school_day`` and ``why_no_school``; ``day`` (of the timetable) and ``bells``; ``leave_by``;
    ``leave_for``, the key of the visit after the stop at the store that comes next, by the clock (both null where none
    comes); ``minutes_to_leave`` (null where the page is of another day, negative when late; from
    ``store_opens`` on, the time it is locked until, null where it is not); ``packing_minutes``;
    ``open`` and ``critical_open`` (counts of lines), ``open_now`` and ``critical_now`` of what leaves with that stop;
    ``next_school_day``; ``visits``, ``containers``, ``lines``, ``tasks``,
    ``checks``, ``cautions``, ``questions``, ``matters``, ``take_out``, ``decisions`` as below; ``fill`` is day, week or
    cycle; ``cases``, ``counts_pending``, ``fetch`` and ``notes`` in words; ``lent`` as the page "lend" has it.
    ``leave_ahead`` is ``room containers minutes done`` in the order of the rooms, its minutes counted in ``leave_by``;
    ``packing_order`` is ``when containers``, ``when`` empty for what goes with the next stop, of which are
    ``packing_minutes_now``; "out by now" for what is needed at no stop any more.

    A container: ``id name kind shelf sign place since kilograms visits open critical_open``. A question: ``key date
    visit class text about``; ``about`` is visit where it asks what became of one, else room or class, for a fact that
    the list turns on (of a room also ``room fact``). A matter carried over: ``key kind what since school_days stale
    container class settled``.
    """
    lines = open_lines(day, marks)
    leave_by = departure.leave_by(day, marks)
    minutes = minutes_until(day, leave_by.minute, at) if leave_by is not None and at is not None else None
    cautions = cautions_beside(day.cautions, departure.by_store)
    things: tuple[Explained, ...] = (*day.lines, *day.tasks, *day.checks, *cautions, *day.take_out, *day.decisions)
    left_out = sum(len(each.because) - len(reasons_of(each, private)) for each in things)
    return {
        **_begin("morning", day),
        "school": plan.school.name,
        "school_day": day.school_day,
        "why_no_school": day.why_no_school,
        "day": day.day_name,
        "bells": day.bells,
        "leave_by": None if leave_by is None else clock(leave_by.minute),
        "leave_for": None if leave_by is None or departure.before is None else departure.before.key,
        "minutes_to_leave": minutes,
        "store_opens": clock(day.store_opens) if day.store_opens else None,
        "packing_minutes": round(packing_minutes_left(day, marks, plan.school.habits.minutes_a_line), 1),
        "packing_minutes_now": round(
            packing_minutes_left(day, marks, plan.school.habits.minutes_a_line, departure.not_now), 1
        ),
        "open": len(lines),
        "critical_open": sum(is_critical(line) for line in lines),
        **open_now_fields(day, marks, departure),
        "next_school_day": None if day.next_school_day is None else day.next_school_day.isoformat(),
        "visits": [visit_fields(each, day, marks) for each in day.visits],
        "containers": container_fields(day, marks),
        "lines": [line_fields(each, marks, private) for each in day.lines],
        "tasks": [task_fields(each, marks, private) for each in day.tasks if not is_hidden(each, private)],
        "checks": [check_fields(each, marks, private) for each in day.checks if not is_hidden(each, private)],
        "cautions": [caution_fields(each, private) for each in cautions if not is_hidden(each, private)],
        "questions": [
            {
                "key": each.key,
                "date": each.date.isoformat(),
                "visit": each.visit,
                "class": each.class_id,
                "text": each.text,
                "about": "visit",
            }
            for each in day.questions
        ]
        + [asked_fields(each, day) for each in facts],
        "matters": [matter_fields(each, marks) for each in day.matters],
        "take_out": [take_out_fields(each, marks, private) for each in day.take_out],
        "decisions": [decision_fields(each, private) for each in day.decisions],
        "fill": day.fill,
        "cases": [say_case(plan, each) for each in cases_now(plan, day, marks)],
        "counts_pending": list(counts_pending(day, marks)),
        "lent": lent_fields(plan, loans_now(day, marks)),
        "fetch": [each.words for each in to_fetch(day, marks, departure.waits)],
        "leave_ahead": [
            {
                "room": each.room,
                "containers": list(each.containers),
                "minutes": each.minutes,
                "done": departure.is_left(each, marks),
            }
            for each in departure.to_leave
        ],
        "packing_order": [{"when": each.when, "containers": list(each.containers)} for each in departure.groups],
        "notes": list(day.notes),
        "private_left_out": left_out,
        "problems": [problem_fields(each) for each in problems],
    }


def quiet_as_json(
    plan: Plan,
    day: Day,
    departure: Departure,
    following: Day | None,
    marks: Marks,
    leave_by: LeaveBy | None,
    problems: Iterable[Problem] = (),
    *,
    private: bool = False,
) -> Fields:
    """The page "morning" of a day without visits: as ``day_as_json``, and ``next`` (null at the end of the year) with
    ``date``, ``day``, ``leave_by``, ``visits`` and ``tasks`` of the next day that has visits. ``marks`` and
    ``leave_by`` are that day's.
    """
    shown = None
    if following is not None and following.visits:
        tasks = [each for each in following.tasks if not is_hidden(each, private)]
        shown = {
            "date": following.date.isoformat(),
            "day": following.day_name,
            "leave_by": None if leave_by is None else clock(leave_by.minute),
            "visits": [visit_fields(each, following, marks) for each in following.visits],
            "tasks": [task_fields(each, marks, private) for each in tasks],
        }
    return {**day_as_json(plan, day, marks, None, departure, problems, private=private), "next": shown}


def matters_as_json(
    page: str, day: Day, matters: Iterable[OpenMatter], problems: Iterable[Problem] = (), **more: Any
) -> Fields:
    """The pages "leaving" and "day end".

    ``open`` and ``critical_open`` count what was not answered; ``matters`` is a list of ``key section text critical
    number visit choices hint answer``: ``number`` of a line or null, ``choices`` in words, ``answer`` what was said.
    """
    every = tuple(matters)
    still = [each for each in every if not each.answer]
    return {
        **_begin(page, day),
        **more,
        "open": len(still),
        "critical_open": sum(each.critical for each in still),
        "matters": [
            {
                "key": each.key,
                "section": each.section,
                "text": each.text,
                "critical": each.critical,
                "number": each.number or None,
                "visit": each.visit,
                "choices": [choice.label for choice in each.choices],
                "hint": each.hint,
                "answer": each.answer,
            }
            for each in every
        ],
        "problems": [problem_fields(each) for each in problems],
    }


def open_now_fields(day: Day, marks: Marks, departure: Departure) -> Fields:
    """``open_now`` and ``critical_now``: lines of what leaves with the stop at the store that comes next."""
    now = [line for line in open_lines(day, marks) if line.container not in departure.not_now]
    return {"open_now": len(now), "critical_now": sum(is_critical(line) for line in now)}


def did_as_json(
    page: str, day: Day, marks: Marks, did: Iterable[str], departure: Departure | None = None, **more: Any
) -> Fields:
    """What was done: ``did`` in words, and how much is open now.

    The pages "tick", "undo", "report", "low", "count", "answer", "change" and "close". "undo" has an empty ``did``
    when nothing is left to undo; "close" has ``unresolved`` besides: what was carried over; "change" has the fields of
    ``changed_day.change_fields`` besides. With the ``departure`` there are ``open_now`` and ``critical_now`` as well.
    """
    lines = open_lines(day, marks)
    critical = sum(is_critical(line) for line in lines)
    now = {} if departure is None else open_now_fields(day, marks, departure)
    return {**_begin(page, day), "did": list(did), "open": len(lines), "critical_open": critical, **now, **more}


def why_as_json(thing: Thing, why: Why, day: Day, marks: Marks, *, private: bool = False) -> Fields:
    """The page "why": ``kind`` is "line", "task", "check", "caution", "take out", "decision" or "matter"; ``thing`` has
    its fields; ``how`` and ``change`` are sentences; ``reasons`` have ``text rule facts source private``.
    """
    fields = _thing_fields(thing, marks, private)
    if not isinstance(thing, Line | Matter) and is_hidden(thing, private):
        fields["text" if isinstance(thing, Decision) else "name" if isinstance(thing, TakeOut) else "what"] = ""
    return {
        **_begin("why", day),
        "kind": why.kind,
        "thing": fields,
        "how": list(why.how),
        "reasons": [
            {"text": each.text, "rule": each.rule, "facts": list(each.facts), "source": each.source}
            | {"private": each.private}
            for each in why.reasons
        ],
        "change": list(why.change),
        "private_left_out": why.left_out,
    }


def why_trips_as_json(
    day: Day, marks: Marks, departure: Departure, trips: Iterable[ToLeave], told: Iterable[Why]
) -> Fields:
    """The page "why" of what is left ahead: ``kind`` "leave ahead"; ``things``, each ``room containers minutes done how
    change``.
    """
    things = [
        {"room": each.room, "containers": list(each.containers), "minutes": each.minutes}
        | {"done": departure.is_left(each, marks), "how": list(why.how), "change": list(why.change)}
        for each, why in zip(trips, told, strict=True)
    ]
    return {**_begin("why", day), "kind": "leave ahead", "things": things}


def _thing_fields(thing: Thing, marks: Marks, private: bool) -> Fields:
    if isinstance(thing, Line):
        return line_fields(thing, marks, private)
    if isinstance(thing, Task):
        return task_fields(thing, marks, private)
    if isinstance(thing, Check):
        return check_fields(thing, marks, private)
    if isinstance(thing, Caution):
        return caution_fields(thing, private)
    if isinstance(thing, TakeOut):
        return take_out_fields(thing, marks, private)
    if isinstance(thing, Decision):
        return decision_fields(thing, private)
    return matter_fields(thing, marks)


def changeover_as_json(day: Day, containers: Iterable[Fields]) -> Fields:
    """The page "changeover": ``containers``, each as ``changeover.changeover_fields`` has it."""
    return {**_begin("changeover", day), "containers": list(containers)}


def problems_as_json(problems: Iterable[Problem]) -> Fields:
    """The page "check": ``well`` (nothing grave), ``problems`` with ``file line entry what to_do level``."""
    every = tuple(problems)
    well = all(each.level != "grave" for each in every)
    return {"format": FORMAT, "page": "check", "well": well, "problems": [problem_fields(each) for each in every]}


def failure_as_json(message: str, problems: Iterable[Problem] = ()) -> Fields:
    """Instead of a page, with exit status 2: ``error`` in words and the ``problems`` that led to it."""
    return {
        "format": FORMAT,
        "page": "error",
        "error": message,
        "problems": [problem_fields(each) for each in problems],
    }


def _begin(page: str, day: Day) -> Fields:
    return {"format": FORMAT, "page": page, "date": day.date.isoformat()}
