"""What is unresolved at the day's end, in the order in which she is asked."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime

from msgspec import structs

from checklists.daybook.before_leaving import choices_for_matter
from checklists.daybook.class_sizes import ask_sizes
from checklists.daybook.counting_back import ask_cases, ask_counts
from checklists.daybook.counts_pending import name_of_visit
from checklists.daybook.entries import CarriedOver, FoundLevel, HandedOut, LetGo, PutRight, Reported, Stands, Ticked
from checklists.daybook.lending import ask_loans
from checklists.daybook.line_states import has_now, is_over, state_of
from checklists.daybook.marks import Marks
from checklists.daybook.matters import KITS, LOW, MISSED, PLACES, PREPARE, REACHED, Choice, OpenMatter
from checklists.daybook.reports import is_in_use, reports_of, was_not_taught, was_taught
from checklists.daybook.said_of_children import say_numbers
from checklists.daybook.settling import ask_what_to_do
from checklists.daybook.stock import ALL_BACK
from checklists.lines.records import Day, Visit
from checklists.plan.records import Plan
from checklists.walks import STORE
from checklists.words import plural, say_date, say_room

SOME_AWAY = "places/some away"


def at_day_end(plan: Plan, day: Day, marks: Marks, at: datetime) -> tuple[OpenMatter, ...]:
    """Every question of the day's end, answered ones included."""
    return (
        *ask_counts(day, marks, at),
        *ask_cases(plan, day, marks, at),
        *_places(day, marks, at),
        *ask_loans(plan, day, marks, at),
        *_reached(plan, day, marks, at),
        *_missed(plan, day, marks, at),
        *ask_sizes(plan, day, marks, at),
        *ask_what_to_do(plan, day, marks, at),
        *_kits(plan, day, marks, at),
        *_low(plan, day, marks, at),
        *_prepare(day, marks, at),
    )


def _places(day: Day, marks: Marks, at: datetime) -> Iterator[OpenMatter]:
    """One question for all; only where something stayed away, one for each container that went out."""
    went = [each for each in day.containers if each.kind != "cart" and each.visits]
    elsewhere = {each.container: each for each in day.matters if each.kind == "left in a room"}
    if not went and not elsewhere:
        return
    away = {each.id for each in day.containers if each.place != STORE}
    not_back = [
        key
        for key in dict.fromkeys((*(each.id for each in day.containers), *elsewhere))
        if key in marks.places or key in elsewhere or key in away
    ]
    back = tuple(Stands(at=at, container=key, place=STORE) for key in not_back)
    answer = "everything is at the store" if ALL_BACK in marks.seen_to else ""
    if SOME_AWAY in marks.seen_to:
        answer = "not everything"
    yield OpenMatter(
        key=ALL_BACK,
        section=PLACES,
        text="Is everything back at the store?",
        critical=False,
        choices=(
            Choice("everything is at the store", (*back, Ticked(at=at, matter=ALL_BACK))),
            Choice("something stayed in a room", (Ticked(at=at, matter=SOME_AWAY),)),
        ),
        answer=answer,
    )
    rooms = {visit.key: visit for visit in day.visits}
    for container in went:
        if SOME_AWAY in marks.seen_to or container.id in marks.places:
            last = rooms[container.visits[-1]]
            yield _ask_place(container.id, container.name, last.room, last.period, marks, at)
    for key, matter in elsewhere.items():
        if all(container.id != key for container in went):
            yield structs.replace(
                _ask_place(key, f"{matter.what}, since {say_date(matter.since)}", "", "", marks, at),
                answer=_say_place(key, marks) or _say_settled(matter.key, marks),
            )


def _ask_place(container: str, name: str, room: str, period: str, marks: Marks, at: datetime) -> OpenMatter:
    choices = [Choice("at the store", (Stands(at=at, container=container, place=STORE),))]
    if room:
        choices.append(
            Choice(f"stayed in {say_room(room)}", (Stands(at=at, container=container, place=room, period=period),))
        )
    else:
        choices.append(Choice("still there", (CarriedOver(at=at, matter=f"left/{container}"),)))
    return OpenMatter(
        key=f"place/{container}",
        section=PLACES,
        text=f"{name}: where is it?" if room else name,
        critical=False,
        choices=tuple(choices),
        answer=_say_place(container, marks) or ("at the store" if room else ""),
    )


def _say_place(container: str, marks: Marks) -> str:
    said = marks.places.get(container)
    if said is None:
        return ""
    return "at the store" if said.place == STORE else say_room(said.place)


def _reached(plan: Plan, day: Day, marks: Marks, at: datetime) -> Iterator[OpenMatter]:
    for visit in day.visits:
        if not visit.steps or not visit.moves_on:
            continue
        step = visit.steps[0]
        lesson = plan.lesson_by_id[step.lesson]
        said = marks.reports.get(visit.key)
        before = structs.replace(said, at=at) if said is not None else Reported(at=at, visit=visit.key, outcome="done")

        def now(outcome: str, before: Reported = before, **more: object) -> tuple[Reported]:
            more |= {"not_done": 0, "not_done_numbers": (), "reached_part": None}
            return (structs.replace(before, outcome=outcome, **more),)

        choices = [
            *_half_as_planned(visit, now("about half", absent=(), absent_count=0, absences_known=True)),
            Choice("done, nobody missing", now("done", absent=(), absent_count=0, absences_known=True)),
            Choice("done", now("done")),
            Choice("about half", now("about half")),
            Choice("not taught", now("not taught")),
        ]
        wait = lesson.parts[step.part - 1].wait
        later = (n for n in range(step.part + 1, len(lesson.parts) + 1) if n not in visit.done_ahead)
        following = next(later, 0)
        may_go_on = following > 0 and (wait is None or not (wait.days or wait.then_school_days))
        if may_go_on:
            (further,) = now("went further")
            further = structs.replace(further, reached_part=following)
            choices.append(Choice(f"went on through part {following}", (further,)))
        further_hint = f", p{following} for went on through part {following}" if may_go_on else ""
        other_hint = ", i and a number for another part instead" if len(lesson.parts) > 1 else ""
        yield OpenMatter(
            key=f"reached/{visit.key}",
            section=REACHED,
            text=f"{name_of_visit(visit)}: {lesson.title}, part {step.part} of {len(lesson.parts)}",
            critical=False,
            choices=tuple(choices),
            typed="not done",
            hint=f"how many are not done, or f9,12 for who{further_hint}{other_hint}",
            answer=say_outcome(said) if said is not None else "",
            visit=visit.key,
            report=said,
            school_class=plan.class_by_id.get(visit.class_id),
            planned=visit,
            lesson=lesson,
        )


def _half_as_planned(visit: Visit, entries: tuple[Reported]) -> Iterator[Choice]:
    """The first choice, where she has planned only half of the part."""
    if visit.split:
        yield Choice("half as planned, nobody missing", entries)


def say_outcome(report: Reported) -> str:
    """An outcome in words, as on the day's end and in messages."""
    who = f" ({say_numbers(report.not_done_numbers)}{_and_more(report)})" if report.not_done_numbers else ""
    not_done = f", {report.not_done} not done{who}" if report.not_done else ""
    match report.outcome:
        case "done except":
            return f"done except {report.not_done}{who}"
        case "went further":
            return f"went on through part {report.reached_part}{not_done}"
        case "another part":
            return f"part {report.reached_part} instead{not_done}"
        case "unknown":
            return ""
    return report.outcome


def _and_more(report: Reported) -> str:
    more = report.not_done - len(report.not_done_numbers)
    return f" and {more} more" if more > 0 else ""


def say_absent(report: Reported) -> str:
    """Who was absent, or there for half of it, in words; empty where nobody has said."""
    said = []
    if report.absent:
        said.append(f"{say_numbers(report.absent)} absent")
    if report.absent_count:
        said.append(f"{report.absent_count} absent")
    if not said and report.absences_known:
        said.append("nobody missing")
    if report.half:
        said.append(f"{say_numbers(report.half)} there for half of it")
    return ", ".join(said)


def _missed(plan: Plan, day: Day, marks: Marks, at: datetime) -> Iterator[OpenMatter]:
    for visit in day.visits:
        if not visit.steps or not visit.moves_on or was_not_taught(visit, marks):
            continue
        said = marks.reports.get(visit.key)
        before = (
            structs.replace(said, at=at) if said is not None else Reported(at=at, visit=visit.key, outcome="unknown")
        )
        nobody = structs.replace(before, absent=(), absent_count=0, absences_known=True)
        yield OpenMatter(
            key=f"missed/{visit.key}",
            section=MISSED,
            text=f"{name_of_visit(visit)}, {plural(visit.students, 'child')}: who missed it?",
            critical=False,
            choices=(Choice("nobody", (nobody,)),),
            typed="missed",
            hint="class-list numbers as 4 11, or only a count as 2a; there for half of it as 6h",
            answer=say_absent(said) if said is not None else "",
            visit=visit.key,
            report=before,
            students=visit.students,
            school_class=plan.class_by_id.get(visit.class_id),
        )


def _kits(plan: Plan, day: Day, marks: Marks, at: datetime) -> Iterator[OpenMatter]:
    reports = reports_of(day, marks)
    asked: set[str] = set()
    for container in day.containers:
        kit = plan.kit_by_id.get(container.id)
        if kit is None or not kit.reset or not is_in_use(kit.id, day, reports):
            continue
        asked.add(f"put right/{kit.id}")
        said = marks.put_right.get(kit.id)
        yield OpenMatter(
            key=f"put right/{kit.id}",
            section=KITS,
            text=f"{container.name}: {kit.reset}" + (f", {kit.reset_minutes} min" if kit.reset_minutes else ""),
            critical=False,
            choices=(
                Choice("put right", (PutRight(at=at, container=kit.id, done=True),)),
                Choice("tomorrow", (PutRight(at=at, container=kit.id, done=False),)),
            ),
            answer="" if said is None else "put right" if said else "tomorrow",
        )
    for visit in day.visits:
        lines = [line for line in day.lines if line.catch_up_for == visit.class_id and visit.key in line.visits]
        if not lines or not was_taught(reports[visit.key]):
            continue
        asked.add(f"catch-up/{visit.class_id}")
        said = marks.handed_out.get(visit.key)
        yield OpenMatter(
            key=f"handed out/{visit.key}",
            section=KITS,
            text=f"{name_of_visit(visit)}: was the catch-up kit handed out?",
            critical=False,
            choices=(
                Choice("handed out", (HandedOut(at=at, visit=visit.key, given=True),)),
                Choice("not yet", (HandedOut(at=at, visit=visit.key, given=False),)),
            ),
            answer="" if said is None else "handed out" if said else "not yet",
            visit=visit.key,
        )
    for matter in day.matters:
        if matter.key in asked or matter.kind in ("left in a room", "count pending", "preparation"):
            continue  # asked in its own place
        over = is_over(matter, day, marks) and matter.key not in marks.seen_to
        yield OpenMatter(
            key=matter.key,
            section=KITS,
            text=f"{matter.what}, since {say_date(matter.since)}" + ("; decide" if matter.stale else ""),
            critical=False,
            choices=choices_for_matter(matter, at),
            answer="done" if over else _say_settled(matter.key, marks),
        )


def _say_settled(key: str, marks: Marks) -> str:
    if key in marks.seen_to:
        return "done"
    if key in marks.let_go:
        return "let go"
    said = marks.carried_over.get(key)
    if said is None:
        return ""
    return f"moved to {say_date(said.to)}" if said.to is not None else "carried over"


def _low(plan: Plan, day: Day, marks: Marks, at: datetime) -> Iterator[OpenMatter]:
    """Supplies that came up short today, that the shelf could not have filled, or that she called low."""
    asked: dict[str, str] = {}
    for line in day.lines:
        scarce = line.on_shelf is not None and not line.counted and line.on_shelf < line.add
        if line.supply in plan.supply_by_id and (scarce or state_of(line, marks) == "short"):
            asked[line.supply] = f"has {has_now(line, marks)} of {line.need}"
    for supply in marks.levels:
        asked.setdefault(supply, "")
    for supply, why in asked.items():
        name = plan.name_of_supply(supply)
        yield OpenMatter(
            key=f"low/{supply}",
            section=LOW,
            text=f"{name}: {why}" if why else name,
            critical=False,
            choices=(
                Choice("low", (FoundLevel(at=at, supply=supply, level="low"),)),
                Choice("out", (FoundLevel(at=at, supply=supply, level="out"),)),
                Choice("plenty", (FoundLevel(at=at, supply=supply, level="plenty"),)),
            ),
            answer=marks.levels.get(supply, ""),
        )


def _prepare(day: Day, marks: Marks, at: datetime) -> Iterator[OpenMatter]:
    last = day.next_school_day or day.date
    for task in day.tasks:
        if task.due > last:
            continue
        yield OpenMatter(
            key=task.key,
            section=PREPARE,
            text=f"{task.what}, {task.minutes} min, for {task.class_id} on {say_date(task.for_date)}",
            critical=False,
            choices=(
                Choice("done", (Ticked(at=at, matter=task.key),)),
                Choice("carry over", (CarriedOver(at=at, matter=task.key),)),
                Choice("let go", (LetGo(at=at, matter=task.key, reason="let go"),)),
            ),
            answer=_say_settled(task.key, marks),
            visit=task.visit,
            number=task.number,
        )
