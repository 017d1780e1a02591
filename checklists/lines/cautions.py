"""The cautions of a day: what rules warn of, and what follows from the day as a whole."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date

from checklists.class_places import progress_in, progress_of
from checklists.daybook.state import State
from checklists.lines.catch_up import children_owed, how_made_up, part_of, say_owed
from checklists.lines.caution import make_caution
from checklists.lines.loads import too_much
from checklists.lines.missed_often import cautions_of_behind, children_behind
from checklists.lines.need import because_of
from checklists.lines.reasoning import Judged
from checklists.lines.records import Because, Caution, Container, Line, Visit
from checklists.lines.tied_up import wanted_at_once
from checklists.lines.work_away import cautions_of_work_away
from checklists.plan.records import Bells, Plan
from checklists.rules.records import Warn
from checklists.words import join_words, plural


def cautions_of(
    plan: Plan,
    state: State,
    bells: Bells,
    judged: Sequence[Judged],
    lines: Sequence[Line],
    containers: Sequence[Container],
    media: Sequence[str],
    day: date,
) -> tuple[Caution, ...]:
    """Visit by visit, then of the day as a whole. What was shown before for a class and lesson is not new."""
    found: dict[str, Caution] = {}
    for one in judged:
        for caution in (*_of_rules(plan, state, one), *_of_owed(plan, state, one.visit, media)):
            found.setdefault(caution.key, caution)
    visits = [one.visit for one in judged]
    behind = children_behind(plan, state, visits)
    away = (caution for visit in visits for caution in cautions_of_work_away(plan, state, visit, day))
    for caution in (*cautions_of_behind(plan, state, behind), *away):
        found.setdefault(caution.key, caution)
    for caution in (*_drifted_apart(plan, state, visits), *_of_the_day(plan, state, bells, visits, lines, containers)):
        found.setdefault(caution.key, caution)
    return tuple(found.values())


def _of_rules(plan: Plan, state: State, one: Judged) -> Iterator[Caution]:
    for step, effect in one.cautions:
        assert isinstance(effect.action, Warn)
        yield make_caution(
            plan,
            state,
            one.visit.class_id,
            one.visit.key,
            step.lesson,
            effect.rule.id,
            effect.text,
            because_of(effect, one.visit),
            critical=effect.action.critical,
        )


# ----------------------------------------------------------------------------------------------- what is owed


def _of_owed(plan: Plan, state: State, visit: Visit, media: Sequence[str]) -> Iterator[Caution]:
    every = state.owed.get(visit.class_id, ())
    for lesson in dict.fromkeys(each.lesson for each in every):
        owed = tuple(each for each in every if each.lesson == lesson)
        title = plan.title_of_lesson(lesson)
        because = (Because(f"owed: {say_owed(owed)}", (visit.key,)),)
        for each in owed:
            part = part_of(plan, each.lesson, each.part)
            children = children_owed(each)
            if part is None or not children or how_made_up(plan, each, part, visit, media) != "held":
                continue
            tags = join_words(tag for tag in part.tags if tag in media)
            to_make = "pieces to make again" if each.broken else "to catch up"
            text = (
                f"{visit.class_id}: {plural(children, 'child')} of {title}, part {each.part}, {to_make}: held until the"
                f" class has {tags} again, or a finish-up visit."
            )
            yield make_caution(plan, state, visit.class_id, visit.key, lesson, f"held/{each.part}", text, because)


# ------------------------------------------------------------------------------------------ classes that drift


def _drifted_apart(plan: Plan, state: State, visits: Sequence[Visit]) -> Iterator[Caution]:
    """Classes of a grade two parts or more apart in one lesson: its box serves both, and there are ways to meet."""
    seen: set[str] = set()
    for visit in visits:
        if visit.grade in seen or not visit.steps:
            continue
        seen.add(visit.grade)
        places: dict[str, list[tuple[int, str]]] = {}
        for class_ in plan.classes:
            progress = progress_of(plan, state, class_) if class_.grade == visit.grade else None
            if progress is not None:
                places.setdefault(progress.lesson, []).append((progress.part, class_.id))
        for lesson, at in places.items():
            slow, fast = min(at), max(at)
            mine = next((each for each in visits if each.class_id in (slow[1], fast[1])), None)
            if fast[0] - slow[0] < 2 or lesson not in plan.lesson_by_id or mine is None:
                continue
            text = f"{slow[1]} is at part {slow[0]}, {fast[1]} at part {fast[0]}: Box {visit.grade} serves both."
            ways = _ways_to_meet(plan, state, lesson, slow, fast)
            text += f" {ways}" if ways else ""
            said = f"they are {fast[0] - slow[0]} parts apart in {plan.lesson_by_id[lesson].title}"
            yield make_caution(
                plan, state, mine.class_id, mine.key, lesson, "apart", text, (Because(said, (mine.key,)),)
            )


def _ways_to_meet(plan: Plan, state: State, lesson: str, slow: tuple[int, str], fast: tuple[int, str]) -> str:
    parts = plan.lesson_by_id[lesson].parts
    progress = progress_in(plan, state, slow[1])
    done = progress.done_ahead if progress is not None else ()
    optional = [str(n) for n in range(slow[0], fast[0]) if parts[n - 1].optional and n not in done]
    ways = [f"{slow[1]} can leave out part {join_words(optional)}"] if optional else []
    filler = plan.lesson_by_id.get(plan.school.habits.filler)
    if filler is not None:
        ways.append(f"{fast[1]} can have {filler.title} meanwhile")
    return f"{'; '.join(ways)}." if ways else ""


# ------------------------------------------------------------------------------------------ the day as a whole


def _of_the_day(
    plan: Plan,
    state: State,
    bells: Bells,
    visits: Sequence[Visit],
    lines: Sequence[Line],
    containers: Sequence[Container],
) -> Iterator[Caution]:
    for each in wanted_at_once(plan, state, bells, visits, lines):
        names = {container.id: container.name for container in containers}
        where = join_words(f"{names.get(container, container)} {count}" for container, count in each.by_container)
        in_work = f", {each.in_work} more are in unfinished work" if each.in_work else ""
        in_work += f", {each.lent} more are lent" if each.lent else ""
        text = f"{each.wanted} {each.name} wanted at one time ({where}); you have {each.owned}{in_work}."
        said = "what is out at the same time cannot be shared; what comes back in between can"
        yield _of_leg(plan, state, each.visit, f"at once/{each.supply}", text, said, each.critical)
    for load in too_much(plan, state, bells, visits, containers, lines):
        yield _of_leg(plan, state, load.visit, load.key, load.text, load.why, load.critical)


def _of_leg(plan: Plan, state: State, visit: Visit, what: str, text: str, why: str, critical: bool) -> Caution:
    """A caution of several visits, which stands at one of them."""
    lesson = visit.steps[0].lesson if visit.steps else ""
    because = (Because(why, (visit.key,)),)
    return make_caution(plan, state, visit.class_id, visit.key, lesson, what, text, because, critical=critical)
