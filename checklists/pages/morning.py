"""The day's list as plain text, by container, by shelf or by class; and the page of a day without visits."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING, Literal

from checklists.daybook.cases import cases_now
from checklists.daybook.counts_pending import counts_pending
from checklists.daybook.entries import Fill
from checklists.daybook.fetching import to_fetch
from checklists.daybook.lending import loans_now
from checklists.daybook.line_states import is_critical, is_settled, open_lines
from checklists.daybook.marks import Marks
from checklists.daybook.minutes_left import LeaveBy, minutes_until, packing_minutes_left, say_too_short
from checklists.daybook.said_of_cases import say_case, say_loan
from checklists.lines.records import Day, Visit
from checklists.pages.orders import by_class, by_container, by_shelf
from checklists.pages.plain import ruled, two_ends, wrap
from checklists.pages.reasons import is_hidden, without_repeats
from checklists.plan.records import Plan
from checklists.problems import Problem
from checklists.route.cautions_beside import cautions_beside
from checklists.words import clock, join_words, minute_of_day, plural, say_date, say_room

if TYPE_CHECKING:
    from checklists.asking import Asked
    from checklists.route.departure import Departure

_LEGEND = (
    "! critical   [ ] open   [~] part packed   [x] packed   [=] enough is in it",
    "[?] short    [-] not needed   [#] must not come along   ~24 about 24",
)
_LATER_SIGN = "[>] enough for today, more for later visits"
FILLED: dict[Fill, str] = {"day": "", "week": "Filled for the week.", "cycle": "Filled for the whole cycle."}


def morning_page(
    plan: Plan,
    day: Day,
    marks: Marks,
    at: int | None,
    departure: Departure,
    *,
    by: Literal["container", "shelf", "class"] = "container",
    private: bool = False,
    problems: Iterable[Problem] = (),
    facts: Sequence[Asked] = (),
) -> str:
    """The list of a day with visits; ``facts`` are asked because it turns on them.

    ``at`` is the minute of that day, None where the page is of another day.
    """
    in_order = {"shelf": by_shelf, "class": by_class}
    lines = by_container(day, marks, private, departure) if by == "container" else in_order[by](day, marks, private)
    parts = [
        *banner(problems),
        *head(plan, day, marks, at, departure),
        *on_top(plan, day, marks, departure),
        *_facts_asked(facts),
        *_leave_ahead(departure, marks),
        *_visits(plan, day),
        *lines,
        *_to_see_to(day, marks, private),
        *_cautions(day, departure, private),
        *_notes(day),
        "",
        *_LEGEND,
        *([_LATER_SIGN] if any(line.ahead for line in day.lines) else []),
    ]
    return "\n".join(parts) + "\n"


def quiet_page(
    plan: Plan,
    day: Day,
    following: Day | None,
    marks: Marks,
    leave_by: LeaveBy | None,
    problems: Iterable[Problem] = (),
    *,
    private: bool = False,
) -> str:
    """The page of a day without visits: the next day that has some, its first visit, and the tasks for it.

    ``marks`` and ``leave_by`` are those of ``following``, which can be ticked already.
    """
    why = day.why_no_school or "no visits"
    parts = [*banner(problems), two_ends(plan.school.name, say_date(day.date)), "", f"Nothing to pack today: {why}."]
    parts += on_top(plan, day, marks)
    if following is None or not following.visits:
        return "\n".join([*parts, "No later day with visits is planned this school year."]) + "\n"
    first = following.visits[0]
    parts.append("")
    parts.append(f"The next school day is {named_day(following)}, {plural(len(following.visits), 'visit')}.")
    parts += wrap(_say_visit(plan, first), first="First: ", indent=7)
    if leave_by is not None:
        parts.append(f"{leave_by.words}.")
    wanted = [each for each in following.tasks if each.for_date <= following.date and not is_hidden(each, private)]
    tasks = [each for each in wanted if not is_settled(each.key, marks)]
    if tasks:
        parts += ["", f"To prepare for {say_date(following.date)}"]
        for task in tasks:
            parts += _row(task.number, task.critical, f"{task.what} ({task.minutes} min)", f"due {say_date(task.due)}")
    else:
        parts.append("Nothing is left to prepare for it.")
    parts += ["", f"Its list: trundle morning --date {following.date.isoformat()}"]
    return "\n".join(parts) + "\n"


def banner(problems: Iterable[Problem]) -> list[str]:
    """The grave problems of the plan; the last good plan is in use while there are any."""
    grave = [each for each in problems if each.level == "grave"]
    if not grave:
        return []
    parts = ["A file of the plan does not read. The last good plan is in use until it is put right:"]
    for each in grave:
        parts += wrap(str(each), first="  ", indent=4)
    return [*parts, ""]


def head(plan: Plan, day: Day, marks: Marks, at: int | None, departure: Departure) -> list[str]:
    """Which day it is, when to leave, how much is open, now and for later stops at the store."""
    left = packing_minutes_left(day, marks, plan.school.habits.minutes_a_line, departure.not_now)
    parts = [two_ends(plan.school.name, f"{named_day(day)}, {day.bells} bells" if day.bells else named_day(day))]
    leave_by = departure.leave_by(day, marks)
    if marks.left is not None and departure.says_left(marks):
        then = f"; next at the store {departure.when}" if departure.when else ""
        parts.append(f"Left at {clock(minute_of_day(marks.left.at))}{then}.")
    elif leave_by is not None:
        leave = leave_by.words
        if at is not None:
            minutes = minutes_until(day, leave_by.minute, at)
            since = max(at, leave_by.minute - minutes)
            leave += f": {plural(minutes, 'minute')} from {clock(since)}" if minutes >= 0 else f"; it is {clock(at)}"
        parts.append(two_ends(leave, f"packing left: about {plural(-(-left // 1), 'minute')}"))
        too_short = "" if departure.stop else say_too_short(day, marks, leave_by, left)
        parts += wrap(too_short, first=" !  ", indent=4) if too_short else []
    said = open_in_words(day, marks, departure)
    parts.append(two_ends(said, FILLED[day.fill]) if FILLED[day.fill] else said)
    return parts


def open_in_words(day: Day, marks: Marks, departure: Departure) -> str:
    """ "30 lines open, 10 critical; 35 for later": what goes with the stop that comes next, and what waits."""
    if departure.before is None and day.visits:
        return "No stop at the store is to come today."
    lines = open_lines(day, marks)
    now = [line for line in lines if line.container not in departure.not_now]
    later = sum(line.container in departure.later for line in lines)
    said = f"{plural(len(now), 'line')} open, {sum(map(is_critical, now))} critical" if now else "All lines are packed."
    return f"{said.removesuffix('.')}; {later} for later" if later else said


def _leave_ahead(departure: Departure, marks: Marks) -> list[str]:
    """What is to stand in a room before she leaves the store next, in the order of the rooms."""
    waiting = [each for each in departure.to_leave if not departure.is_left(each, marks)]
    return ["", *(row for each in waiting for row in wrap(each.words, first=" !  ", indent=4))] if waiting else []


def on_top(plan: Plan, day: Day, marks: Marks, departure: Departure | None = None) -> list[str]:
    """What stands on top of every day until it is answered: what is to be fetched, missing sharps, counts, unknown
    visits, what is lent, carried matters."""
    parts: list[str] = []
    fetched = to_fetch(day, marks) if departure is None else departure.to_fetch(day, marks)
    for fetch in fetched:
        detail = f" ({fetch.detail})" if fetch.detail else ""
        parts += wrap(f"{fetch.words}{detail}", first=" >  " if fetch.waits else " !  ", indent=4)
    for decision in day.decisions:
        visit = next((f"{each.name} {each.class_id}" for each in day.visits if each.key == decision.visit), "")
        meanwhile = "Nothing is packed for it until you choose:" if decision.stops else "Packed meanwhile as planned:"
        first = " !  " if decision.stops else " ?  "
        parts += wrap(f"{visit}: {decision.text} {meanwhile}", first=first, indent=4)
        words = " ".join([visit, *decision.text.replace('"', "").split()[:3]])
        parts += [f'    trundle answer "{words}" "{offer.label}"' for offer in decision.offers]
    for case in cases_now(plan, day, marks):
        parts += wrap(say_case(plan, case), first=" !  ", indent=4)
    for count in counts_pending(day, marks):
        parts += wrap(count, first=" !  ", indent=4)
    for question in day.questions:
        parts += wrap(question.text, first=" ?  ", indent=4)
    if day.questions:
        asked = day.questions[0]
        parts.append(f"    answer: trundle report {asked.class_id} --outcome done --date {asked.date.isoformat()}")
    for loan in loans_now(day, marks):
        parts += wrap(say_loan(plan, loan, day.date), first="    ", indent=4)
    away = {f"left/{fetch.container}" for fetch in fetched}
    for matter in day.matters:
        if is_settled(matter.key, marks) or matter.key in away or matter.kind == "count pending":
            continue  # said above
        since = f"since {say_date(matter.since)}" + (
            ", decide: do it, let it go, or give it a date" if matter.stale else ""
        )
        before = next((f", before {each.name}" for each in day.visits if each.key == matter.before_visit), "")
        parts += wrap(f"{matter.what} ({since}{before})", first=" >  ", indent=4)
    return ["", *parts] if parts else []


def _facts_asked(facts: Sequence[Asked]) -> list[str]:
    """What nobody has said and this list turns on, and how it is said once and for all."""
    if not facts:
        return []
    from checklists.pages.rooms import how_to_answer

    rows = [row for each in facts for row in wrap(each.text, first=" ?  ", indent=4)]
    return ["", *rows, f"    answer: {how_to_answer(facts[0])}"]


def named_day(day: Day) -> str:
    """ "Mon 5 Oct", in a cycle "Mon 5 Oct, day A"."""
    weekday = say_date(day.date)
    return weekday if not day.day_name or weekday.startswith(day.day_name) else f"{weekday}, day {day.day_name}"


def _say_visit(plan: Plan, visit: Visit) -> str:
    students = f"{'about ' if visit.about else ''}{visit.students}"
    steps = []
    for step in visit.steps:
        lesson = plan.lesson_by_id[step.lesson]
        steps.append(f"{lesson.title} {step.part} of {len(lesson.parts)}")
    taught = join_words(steps, "or") or "no lesson"
    when = f"{visit.name} {clock(visit.start)}-{clock(visit.end)}"
    return f"{when} {say_room(visit.room)}, {visit.class_id}, {students} children: {taught}"


def _visits(plan: Plan, day: Day) -> list[str]:
    return ["", *(row for visit in day.visits for row in wrap(_say_visit(plan, visit), first="  ", indent=6))]


# ---------------------------------------------------------------------------------------------- what else there is


def _row(number: int, critical: bool, text: str, right: str = "", sign: str = "[ ]") -> list[str]:
    start = f" {'!' if critical else ' '}{number:>4} {sign}  "
    return wrap(f"{text}, {right}" if right else text, first=start, indent=len(start))


def _to_see_to(day: Day, marks: Marks, private: bool) -> list[str]:
    parts: list[str] = []
    hidden = 0
    titles: list[tuple[str, list[list[str]]]] = [
        ("TO PREPARE", []),
        ("TO SEE TO AT THE STORE", []),
        ("IN THE ROOMS", []),
    ]
    for task in day.tasks:
        if is_hidden(task, private):
            hidden += 1
            continue
        due = "" if task.due == day.date else f"due {say_date(task.due)}"
        sign = "[x]" if is_settled(task.key, marks) else "[ ]"
        when = ", ".join(each for each in (due, task.place) if each)
        titles[0][1].append(_row(task.number, task.critical, f"{task.what} ({task.minutes} min)", when, sign))
    names = {visit.key: visit.name for visit in day.visits}
    for check in day.checks:
        if is_hidden(check, private):
            hidden += 1
            continue
        sign = "[x]" if is_settled(check.key, marks) else "[ ]"
        to = titles[1][1] if check.at == "store" else titles[2][1]
        to.append(_row(check.number, check.critical, check.what, names.get(check.visit, ""), sign))
    for title, rows in titles:
        if rows:
            parts += ["", ruled(title), *(row for each in rows for row in each)]
    if hidden:
        parts += ["", f"{plural(hidden, 'private matter')} left out here; trundle morning --private has them."]
    return parts


def _cautions(day: Day, departure: Departure, private: bool) -> list[str]:
    cautions = cautions_beside(day.cautions, departure.by_store)
    names = {visit.key: visit.name for visit in day.visits}
    new = [each for each in cautions if each.is_new and not is_hidden(each, private)]
    shown = without_repeats(new, day.visits)
    folded = sum(not each.is_new for each in cautions)
    hidden = sum(is_hidden(each, private) for each in cautions if each.is_new)
    parts: list[str] = []
    for caution, visits in shown:
        whom = " ".join(names[key] for key in visits if key in names)
        start = f" {'!' if caution.critical else ' '} {whom:<3} "
        parts += wrap(caution.what, first=start, indent=7)
    if folded:
        parts.append(f"   {plural(folded, 'caution')} shown before")
    if hidden:
        parts.append(f"   {plural(hidden, 'private caution')} left out here; trundle morning --private has them")
    return ["", ruled("CAUTIONS"), *parts] if parts else []


def _notes(day: Day) -> list[str]:
    rows = [row for note in day.notes for row in wrap(note, first="  - ", indent=4)]
    return ["", ruled("NOTES"), *rows] if rows else []
