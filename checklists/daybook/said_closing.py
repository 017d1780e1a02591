"""What closing a day did, in words."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from checklists.class_places import progress_of
from checklists.daybook.said_of_cases import say_loan, say_reported
from checklists.daybook.state import Progress, State
from checklists.lines.catch_up import say_owed
from checklists.lines.records import Day
from checklists.plan.records import Plan
from checklists.words import join_words, say_date, say_room


def say_closing(plan: Plan, day: Day, opening: State, closing: State) -> tuple[str, ...]:
    """One sentence for each thing that moved: classes, absences, open questions, cases, what is carried over."""
    return (*_classes(plan, day, opening, closing), *_things(plan, day.date, opening, closing))


def _classes(plan: Plan, day: Day, opening: State, closing: State) -> Iterator[str]:
    for class_id in dict.fromkeys(visit.class_id for visit in day.visits):
        class_ = plan.class_by_id[class_id]
        before, after = progress_of(plan, opening, class_), progress_of(plan, closing, class_)
        unsure = closing.unsure.get(class_id, ())
        if unsure and unsure != opening.unsure.get(class_id, ()):
            yield f"{class_id}: nobody has told yet; packed next time for either answer."
        elif before is not None:
            yield f"{class_id}: {_say_move(plan, before, after)}."
        owed, was = closing.owed.get(class_id, ()), opening.owed.get(class_id, ())
        if owed != was:
            yield f"{class_id}: catch-up owed, {say_owed(owed)}." if owed else f"{class_id}: catch-up handed out."


def _say_move(plan: Plan, before: Progress, after: Progress | None) -> str:
    if after is None:
        return f"finished {plan.lesson_by_id[before.lesson].title}; no lesson is placed after it"
    lesson = plan.lesson_by_id[after.lesson]
    ahead = [str(n) for n in after.done_ahead if before.lesson != after.lesson or n not in before.done_ahead]
    if ahead:
        parts = f"{'part' if len(ahead) == 1 else 'parts'} {join_words(ahead)}"
        return f"next is part {after.part} of {lesson.title}; {parts} {'is' if len(ahead) == 1 else 'are'} done already"
    if (before.lesson, before.part) == (after.lesson, after.part):
        again = ", again from the middle" if after.again else ""
        return f"stays at part {after.part} of {lesson.title}{again}"
    if before.lesson != after.lesson:
        return f"finished {plan.lesson_by_id[before.lesson].title}; next is {lesson.title}"
    return f"next is part {after.part} of {lesson.title}"


def _things(plan: Plan, day: date, opening: State, closing: State) -> Iterator[str]:
    known = {case.key for case in opening.cases}
    for case in closing.cases:
        if case.key not in known:
            reported = say_reported(case.reported_to, case.reported_when)
            what = plan.name_of_supply(case.supply)
            yield f"Case opened: {case.count} {what} missing from {say_room(case.room)}, {reported}."
    for key in known - {case.key for case in closing.cases}:
        yield f"Case of {key.partition('/')[0]} closed."
    for loan in closing.lent:
        yield f"Still {say_loan(plan, loan, day)}."
    for each in closing.carried:
        moved = f", until {say_date(each.not_before)}" if each.not_before is not None else ""
        yield f"Carried over: {each.what}, since {say_date(each.since)}{moved}."
    if closing.lost_days != opening.lost_days:
        yield "The day was lost: no class moved on."
