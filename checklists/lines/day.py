"""One date's whole list: ``day_on`` turns plan, rules, opening state and the day's changes into a ``Day``."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from datetime import date

from checklists.calendar import Calendar, calendar_of
from checklists.daybook.entries import Changed, Fill
from checklists.daybook.said_of_cases import say_case
from checklists.daybook.state import State
from checklists.lines.carrying import (
    ByHand,
    carried_by_hand,
    cautions_by_hand,
    checks_by_hand,
    decisions_by_hand,
)
from checklists.lines.cautions import cautions_of
from checklists.lines.checks import checks_of
from checklists.lines.containers import CART
from checklists.lines.decisions import decisions_of
from checklists.lines.fill import lines_filled_ahead
from checklists.lines.gathering import needs_of_day
from checklists.lines.merge import FIRST_NUMBER, lines_from, numbered
from checklists.lines.missed_often import children_behind
from checklists.lines.packed_containers import containers_of
from checklists.lines.pails import into_pails
from checklists.lines.placing import placed_tasks
from checklists.lines.preparation import tasks_for
from checklists.lines.reasoning import Reasoning
from checklists.lines.records import Container, Day, Line, Matter, Question, Visit
from checklists.lines.store_opens import store_too_late
from checklists.lines.store_stops import leave_for
from checklists.lines.take_out import to_take_out
from checklists.plan.records import Plan
from checklists.rules.read import RuleSet
from checklists.taught_periods import bells_on
from checklists.visits import visits_on
from checklists.walks import STORE, DayWalks, walks_of
from checklists.words import join_words, minute_of, plural, say_date

MOST_CRITICAL = 5
"""Critical lines of a visit beyond which the tool says so. Common practice, no source."""
MOST_NAMED = 3
"""Rules named as what most of them come from."""


def calendar_for(plan: Plan, state: State, day: date, change: Changed | None) -> Calendar:
    """The calendar as known on ``day``: lost and announced days so far, and what the day itself was changed to."""
    lost, announced = state.lost_days, state.announced
    if change is not None and change.no_school:
        lost = (*lost, day)
    if change is not None and change.day:
        announced = announced | {day.isoformat(): change.day}
    return calendar_of(plan.school, lost, announced)


def day_on(
    plan: Plan,
    rules: RuleSet,
    state: State,
    day: date,
    change: Changed | None = None,
) -> Day:
    """Everything of ``day`` as it stands when the day opens with ``state``. Depends on nothing else."""
    calendar = calendar_for(plan, state, day, change)
    opens = minute_of(change.store_opens) if change is not None and change.store_opens else None
    no_mess = bool(change is not None and change.no_mess)
    reasoning = Reasoning(plan, rules, state, calendar, no_mess=no_mess)
    judged = reasoning.judge(day, visits_on(plan, state, calendar, day, change))
    visits = tuple(one.visit for one in judged)
    bells, walks = bells_on(plan, change), walks_of(plan, change)
    fill: Fill = (change.fill if change is not None else None) or "day"
    needs, notes = needs_of_day(reasoning, day, judged)
    lines = lines_from(plan, state, visits, needs)
    if fill != "day":
        lines = lines_filled_ahead(reasoning, day, visits, needs, lines, fill)
    lines = numbered(into_pails(plan, state, lines))
    tasks = numbered(placed_tasks(tasks_for(reasoning, day, judged), day, bells, plan.school.bells[0]), _after(lines))
    containers = containers_of(plan, state, [one.visit for one in judged if not one.stopped], lines)
    checks = checks_of(plan, state, calendar, day, judged, containers, _after(lines) + len(tasks))
    by_hand = carried_by_hand(walks, bells, visits, containers, lines)
    packed = {one.visit.key for one in judged if not one.stopped}
    carried = [one for one in by_hand if one.visit.key in packed]
    checks = (*checks, *checks_by_hand(plan, carried, _after(lines) + len(tasks) + len(checks)))
    away = (change.away if change is not None else None) or ()
    first = visits[0] if visits else None
    return Day(
        date=day,
        school_day=calendar.is_school_day(day),
        why_no_school=calendar.why_no_school(day),
        day_name=calendar.day_name(day),
        bells=bells.id,
        visits=visits,
        containers=containers,
        lines=lines,
        tasks=tasks,
        checks=checks,
        cautions=(
            *cautions_of(plan, state, bells, judged, lines, containers, rules.vocabulary.media, day),
            *cautions_by_hand(plan, state, carried),
        ),
        questions=_questions(plan, state),
        matters=_matters(state, calendar, visits, lines, plan.school.habits.stale_after_school_days, day),
        cases=tuple(say_case(plan, each) for each in state.cases),
        open_cases=state.cases,
        notes=(*_visit_notes(visits), *dict.fromkeys(notes), *_many_critical(visits, lines)),
        leave_by=None if first is None else _leave_by(plan, first, containers, by_hand, opens or 0),
        store_opens=opens or 0,
        next_school_day=calendar.next_school_day(day),
        take_out=to_take_out(plan, state, containers, lines, _after(lines) + len(tasks) + len(checks)),
        decisions=(
            *store_too_late(walks, day, opens, judged, by_hand, away),
            *decisions_of(plan, day, judged, away),
            *decisions_by_hand(plan, day, carried, away),
        ),
        behind=children_behind(plan, state, visits),
        fill=fill,
        fetch_minutes=_fetch_minutes(plan, walks, state, visits),
        lent=state.lent,
        longer_ways=dict(walks.longer_ways),
        elevator_out=walks.elevator_out,
    )


def _after(lines: Sequence[Line]) -> int:
    return lines[-1].number + 1 if lines else FIRST_NUMBER


def _questions(plan: Plan, state: State) -> tuple[Question, ...]:
    """Where several classes were taught in a visit, only the one whose visit it was is asked about.

    Of a class that is archived, or in the plan no more, nobody is asked.
    """
    known = {each.id for each in plan.classes}
    found: list[Question] = []
    of_own = {
        each.visit for class_id, unsure in state.unsure.items() for each in unsure if _is_of(each.visit, class_id)
    }
    for class_id, unsure in state.unsure.items():
        for each in unsure:
            if class_id not in known or (each.visit in of_own and not _is_of(each.visit, class_id)):
                continue
            lesson = plan.lesson_by_id.get(each.lesson)
            title = f"{lesson.title}, part {each.part}" if lesson is not None else f"part {each.part}"
            found.append(
                Question(
                    key=f"question/{each.date.isoformat()}/{each.visit}",
                    date=each.date,
                    visit=each.visit,
                    class_id=class_id,
                    text=f"{class_id} on {say_date(each.date)}: {title} done?",
                )
            )
    return tuple(sorted(found, key=lambda question: (question.date, question.visit)))


def _is_of(visit: str, class_id: str) -> bool:
    """Whether a visit, by its key, is that of a class."""
    return visit.endswith(f" {class_id}")


def _matters(
    state: State, calendar: Calendar, visits: Sequence[Visit], lines: Sequence[Line], stale_after: int, day: date
) -> tuple[Matter, ...]:
    """What was carried over to today: for anybody at once, for a class only on its next visit."""
    by_class = {visit.class_id: visit for visit in visits}
    rides_to: dict[str, set[str]] = {}
    for line in lines if state.carried else ():
        rides_to.setdefault(line.container, set()).update(line.visits)
    has_packed = any(each.packed for each in state.carried)
    needed = {f"{each.container}/{each.supply}": each.need for each in lines if not each.catch_up_for and has_packed}
    found: list[Matter] = []
    for each in state.carried:
        if each.not_before is not None and day < each.not_before:
            continue
        if each.kind == "preparation":
            continue  # the task itself stands on the list, with the date it was moved to
        visit = by_class.get(each.for_class)
        if each.for_class and visit is None:
            continue
        if visit is None:
            wanted = rides_to.get(each.container, set())
            visit = next((one for one in visits if one.key in wanted), None)
        age = calendar.school_days_between(each.since, day)
        found.append(
            Matter(
                key=each.key,
                kind=each.kind,
                what=each.what,
                since=each.since,
                school_days=age,
                container=each.container,
                for_class=each.for_class,
                stale=not each.for_class and age > stale_after,
                before_visit=visit.key if visit is not None else "",
                supply=each.supply,
                count=each.count,
                packed=_not_needed_of(each.packed, needed),
            )
        )
    return tuple(found)


def _not_needed_of(packed: Mapping[str, int], needed: Mapping[str, int]) -> dict[str, tuple[int, int]]:
    """What today's own lines leave, and what they need, of what was packed for a day that was lost."""
    kept = {what: min(count, needed.get(what, 0)) for what, count in packed.items()}
    return {what: (count - kept[what], kept[what]) for what, count in packed.items() if count > kept[what]}


def _leave_by(plan: Plan, first: Visit, containers: Sequence[Container], carried: Sequence[ByHand], opens: int) -> int:
    """When to leave the store where nothing is to be fetched: the bell, less the walk, setting up and some slack.

    That is not before it opens, if the first visit needs anything it holds and is not over by then.
    """
    by_hand = (each.minutes_before for each in carried if each.visit.key == first.key)
    minute = leave_for(plan, first, next(by_hand, first.walk_before))
    waits = opens < first.end and any(first.key in each.visits for each in containers if each.id != CART)
    return max(minute, opens) if waits else minute


def _fetch_minutes(plan: Plan, walks: DayWalks, state: State, visits: Sequence[Visit]) -> dict[str, int]:
    """From the store and back, for every room that something can stand in."""
    stood = (place.where for place in state.places.values())
    rooms = dict.fromkeys((*plan.rooms, *(visit.room for visit in visits), *stood))
    return {room: 2 * walks.minutes(STORE, room) for room in rooms}


def _visit_notes(visits: Sequence[Visit]) -> list[str]:
    notes = [f"{visit.name} {visit.class_id}: no lesson is placed for it." for visit in visits if not visit.steps]
    if visits and len(notes) == len(visits):
        notes.append("Nothing can be packed until the classes have lessons.")
    chosen = (visit for visit in visits if visit.next_part)
    notes += [
        f"{visit.name} {visit.class_id}: part {visit.steps[0].part} was chosen; part {visit.next_part} stays next."
        for visit in chosen
    ]
    return notes


def _many_critical(visits: Sequence[Visit], lines: Sequence[Line]) -> list[str]:
    """Visits with more critical lines than one can keep in mind, and which rules most of them come from."""
    notes: list[str] = []
    for visit in visits:
        critical = [line for line in lines if line.critical and visit.key in line.visits]
        if len(critical) <= MOST_CRITICAL:
            continue
        titles = Counter(title for line in critical for title in _public_titles(line, visit))
        most = join_words(_as_in_a_sentence(title) for title, _ in titles.most_common(MOST_NAMED))
        notes.append(
            f"{visit.class_id} has {plural(len(critical), 'critical line')}; five is what one can keep in mind."
            + (f" Most come from: {most}." if most else "")
        )
    return notes


def _public_titles(line: Line, visit: Visit) -> set[str]:
    """Titles of the rules behind a line of a visit, but for those that tell of a child's need."""
    mine = (why for why in line.because if visit.key in why.visits)
    return {why.rule_title for why in mine if why.rule_title and not why.private}


def _as_in_a_sentence(title: str) -> str:
    return title[:1].lower() + title[1:]
