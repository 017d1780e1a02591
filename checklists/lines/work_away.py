"""Work of a class that is not in its folder: how many pieces are here, and a caution where a part needs the others."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from checklists.class_places import progress_in
from checklists.daybook.state import Away, State
from checklists.lines.caution import make_caution
from checklists.lines.containers import folder_of
from checklists.lines.records import Because, Caution, Visit
from checklists.plan.records import Plan
from checklists.words import plural, say_date


def say_here(plan: Plan, state: State, class_id: str) -> str:
    """ ", 12 of 24 here" behind the name of a class's folder; empty where all its work is in it."""
    away = _away_now(plan, state, class_id)
    if away is None:
        return ""
    owed = state.owed.get(class_id, ())
    new = {number for each in owed if each.new and each.lesson == away.lesson for number in each.numbers}
    all_pieces = plan.class_by_id[class_id].headcount - len(new)  # who has joined since has none yet
    return f", {max(0, all_pieces - away.count)} of {all_pieces} here"


def _away_now(plan: Plan, state: State, class_id: str) -> Away | None:
    """Pieces that are away of the work that the class is in the middle of."""
    away, progress = state.work_away.get(class_id), progress_in(plan, state, class_id)
    return away if away is not None and progress is not None and away.lesson == progress.lesson else None


def cautions_of_work_away(plan: Plan, state: State, visit: Visit, day: date) -> Iterator[Caution]:
    """A critical caution for a visit that goes on with work of which some is away."""
    away = _away_now(plan, state, visit.class_id)
    step = next((each for each in visit.steps if each.part > 1), None)
    if away is None or step is None or not visit.moves_on or step.lesson != away.lesson:
        return
    title = plan.lesson_by_id[step.lesson].title
    without = f"{plural(away.count, 'child')} cannot go on with part {step.part} of {title}"
    text = f"{_say_away(away, day)}: {without}. Take them down before, or have something else for them."
    because = (Because(f"not in {folder_of(visit.class_id)} since {say_date(away.since)}", (visit.key,)),)
    yield make_caution(plan, state, visit.class_id, visit.key, step.lesson, "work away", text, because, critical=True)


def _say_away(away: Away, day: date) -> str:
    pieces = plural(away.count, "piece")
    if away.until is not None and away.until < day:
        was = "was" if away.count == 1 else "were"
        return f"{pieces} {was} to hang until {say_date(away.until)}, and nobody has said that they are back"
    until = f" until {say_date(away.until)}" if away.until is not None else ""
    return f"{pieces} {'hangs' if away.count == 1 else 'hang'}{until}"
