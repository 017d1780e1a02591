"""The parts of the JSON pages: one object for each visit, container, line, task, check, caution and problem."""

from __future__ import annotations

from typing import Any

from checklists.daybook.line_states import (
    has_now,
    is_critical,
    is_settled,
    left_to_take,
    open_lines,
    readiness_of,
    state_of,
)
from checklists.daybook.marks import Marks
from checklists.lines.records import Because, Caution, Check, Day, Decision, Line, Matter, TakeOut, Task, Visit
from checklists.pages.reasons import reasons_of, say_forbidden
from checklists.problems import Problem
from checklists.words import clock

Fields = dict[str, Any]


def visit_fields(visit: Visit, day: Day, marks: Marks) -> Fields:
    """``key number name class grade period room start end students about tables joined steps next_part done_ahead open
    critical_open``; a step is ``lesson part``, two of them while the outcome of the last visit is unknown.
    ``next_part`` is the class's next part where another one was chosen for the visit, else null; ``done_ahead`` are
    later parts that it has done already; ``joined`` are classes taught together with it."""
    still, critical = readiness_of(visit, day, marks)
    return {
        "key": visit.key,
        "number": visit.number,
        "name": visit.name,
        "class": visit.class_id,
        "grade": visit.grade,
        "period": visit.period,
        "room": visit.room,
        "start": clock(visit.start),
        "end": clock(visit.end),
        "students": visit.students,
        "about": visit.about,
        "tables": visit.tables,
        "joined": [each.of for each in visit.joined],
        "steps": [{"lesson": each.lesson, "part": each.part} for each in visit.steps],
        "next_part": visit.next_part or None,
        "done_ahead": list(visit.done_ahead),
        "open": still,
        "critical_open": critical,
    }


def line_fields(line: Line, marks: Marks, private: bool) -> Fields:
    """``key number container supply name group need has add state critical counted about class visits shelf on_shelf
    counted_on remedy reason forbidden instead ahead later sets because``. ``class`` is of a catch-up kit; ``state`` is
    open, part packed, packed, met, short, not needed or forbidden; ``ahead`` are needed more for ``later`` visits,
    and ``add`` counts them; ``counted_on`` is when all there is of the supply was counted, or null."""
    mark = marks.lines.get(line.key)
    has = has_now(line, marks)
    return {
        "key": line.key,
        "number": line.number,
        "container": line.container,
        "supply": line.supply,
        "name": line.name,
        "group": line.group,
        "need": line.need,
        "has": has,
        "add": max(0, line.need + line.ahead - has),
        "state": state_of(line, marks),
        "critical": is_critical(line),
        "counted": line.counted,
        "about": line.about,
        "class": line.catch_up_for,
        "visits": list(line.visits),
        "shelf": line.shelf,
        "on_shelf": line.on_shelf,
        "counted_on": line.counted_on.isoformat() if line.counted_on is not None else None,
        "remedy": mark.remedy if mark else "",
        "reason": mark.reason if mark else "",
        "forbidden": say_forbidden(line, private) if line.forbidden else "",
        "instead": line.instead,
        "ahead": line.ahead,
        "later": list(line.later),
        "sets": line.sets,
        "because": [_because(each) for each in reasons_of(line, private)],
    }


def take_out_fields(take_out: TakeOut, marks: Marks, private: bool) -> Fields:
    """``key number container supply name count left shelf because``; ``left`` is how many are still to be taken out."""
    return {
        "key": take_out.key,
        "number": take_out.number,
        "container": take_out.container,
        "supply": take_out.supply,
        "name": take_out.name,
        "count": take_out.count,
        "left": left_to_take(take_out, marks),
        "shelf": take_out.shelf,
        "because": [_because(each) for each in reasons_of(take_out, private)],
    }


def decision_fields(decision: Decision, private: bool) -> Fields:
    """``key visit text stops offers because``; ``offers`` in words, as `trundle answer` takes them.

    ``stops``: nothing is packed for the visit until one is chosen.
    """
    return {
        "key": decision.key,
        "visit": decision.visit,
        "text": decision.text,
        "stops": decision.stops,
        "offers": [each.label for each in decision.offers],
        "because": [_because(each) for each in reasons_of(decision, private)],
    }


def matter_fields(matter: Matter, marks: Marks) -> Fields:
    """``key kind what since school_days stale container class settled``."""
    return {
        "key": matter.key,
        "kind": matter.kind,
        "what": matter.what,
        "since": matter.since.isoformat(),
        "school_days": matter.school_days,
        "stale": matter.stale,
        "container": matter.container,
        "class": matter.for_class,
        "settled": is_settled(matter.key, marks),
    }


def task_fields(task: Task, marks: Marks, private: bool) -> Fields:
    """``key number what minutes due place for class visit critical done because``."""
    return {
        "key": task.key,
        "number": task.number,
        "what": task.what,
        "minutes": task.minutes,
        "due": task.due.isoformat(),
        "place": task.place,
        "for": task.for_date.isoformat(),
        "class": task.class_id,
        "visit": task.visit,
        "critical": task.critical,
        "done": is_settled(task.key, marks),
        "because": [_because(each) for each in reasons_of(task, private)],
    }


def check_fields(check: Check, marks: Marks, private: bool) -> Fields:
    """``key number what at visit critical done because``; ``at`` is store or room."""
    return {
        "key": check.key,
        "number": check.number,
        "what": check.what,
        "at": check.at,
        "visit": check.visit,
        "critical": check.critical,
        "done": is_settled(check.key, marks),
        "because": [_because(each) for each in reasons_of(check, private)],
    }


def problem_fields(problem: Problem) -> Fields:
    """``file line entry what to_do level``; ``line`` may be null, ``level`` is grave or note."""
    return {
        "file": problem.file,
        "line": problem.line,
        "entry": problem.entry,
        "what": problem.what,
        "to_do": problem.to_do,
        "level": problem.level,
    }


def container_fields(day: Day, marks: Marks) -> list[Fields]:
    still = open_lines(day, marks)
    found = []
    for each in day.containers:
        lines = [line for line in still if line.container == each.id]
        stands = marks.places.get(each.id)
        found.append(
            {
                "id": each.id,
                "name": each.name,
                "kind": each.kind,
                "shelf": each.shelf,
                "sign": each.sign,
                "place": stands.place if stands else each.place,
                "since": "" if stands else each.place_since,
                "kilograms": each.kilograms,
                "visits": list(each.visits),
                "open": len(lines),
                "critical_open": sum(is_critical(line) for line in lines),
            }
        )
    return found


def caution_fields(caution: Caution, private: bool) -> Fields:
    """``key what visit critical new because``."""
    return {
        "key": caution.key,
        "what": caution.what,
        "visit": caution.visit,
        "critical": caution.critical,
        "new": caution.is_new,
        "because": [_because(each) for each in reasons_of(caution, private)],
    }


def _because(because: Because) -> Fields:
    """``text visits rule title facts private``."""
    return {
        "text": because.text,
        "visits": list(because.visits),
        "rule": because.rule,
        "title": because.rule_title,
        "facts": list(because.facts),
        "private": because.private,
    }
