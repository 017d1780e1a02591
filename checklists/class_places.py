"""The class's own place: which part of which lesson is next, what it has done, and where it goes on from there."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from datetime import date

from msgspec import structs

from checklists.daybook.entries import ClassPlace
from checklists.daybook.state import Progress, State
from checklists.lines.records import Step, Visit
from checklists.plan.records import Plan, SchoolClass


def progress_of(plan: Plan, state: State, class_: SchoolClass) -> Progress | None:
    """Where the class is; None where no lesson is left for it.

    A class not begun is at its grade's first lesson. A lesson that is no longer in the plan, or is shorter than it was,
    counts as done as far as it is gone.
    """
    progress = state.progress.get(class_.id) or Progress("", 1)
    lesson = plan.lesson_by_id.get(progress.lesson)
    if lesson is not None and progress.part <= len(lesson.parts):
        return progress
    done = progress.lessons_done if lesson is None else (*progress.lessons_done, lesson.id)
    following = _next_lesson(plan, class_, done)
    return Progress(following, 1, lessons_done=done) if following else None


def progress_in(plan: Plan, state: State, class_id: str) -> Progress | None:
    """The same of a class by its id; None also where the plan has no such class any more."""
    class_ = plan.class_by_id.get(class_id)
    return progress_of(plan, state, class_) if class_ is not None else None


def advance(plan: Plan, class_: SchoolClass, progress: Progress, taught_on: date) -> Progress:
    """The class's place after its next part was taught."""
    return place_after(plan, class_, progress, (progress.part,), taught_on)


def place_after(
    plan: Plan, class_: SchoolClass, progress: Progress, taught: Collection[int], taught_on: date
) -> Progress:
    """The class's place after these parts of its lesson were taught, in whatever order.

    Its next part is the first one that is not done; later ones done already are passed over, and a part before it that
    is taught once more changes nothing. With the last open part the lesson is over and the grade's next one follows;
    its name is empty where no lesson is left.
    """
    parts = len(plan.lesson_by_id[progress.lesson].parts)
    fresh = {n for n in taught if progress.part <= n <= parts and n not in progress.done_ahead}
    following = progress.part
    while following in fresh or following in progress.done_ahead:
        following += 1
    if following > parts:
        before = progress.lessons_done
        done = before if progress.lesson in before else (*before, progress.lesson)
        return Progress(_next_lesson(plan, class_, done), 1, lessons_done=done)
    ahead = dict(zip(progress.done_ahead, progress.ahead_on, strict=False)) | dict.fromkeys(fresh, taught_on)
    ahead = {n: ahead[n] for n in sorted(ahead) if n > following}
    place = structs.replace(progress, done_ahead=tuple(ahead), ahead_on=tuple(ahead.values()))
    if following == progress.part:
        return place
    last = max(n for n in fresh if n < following)
    after = last if last < following - 1 else 0
    return structs.replace(place, part=following, taught_on=taught_on, after=after, again=False)


def with_class_places(state: State, said: Mapping[str, ClassPlace]) -> State:
    """The state with the places that were said: nothing of before holds a class back, as nobody knows since when."""
    if not said:
        return state
    places = dict(state.progress)
    for class_id, entry in said.items():
        before = places.get(class_id)
        done = before.lessons_done if before is not None else ()
        places[class_id] = Progress(
            entry.lesson, entry.part, lessons_done=tuple(each for each in done if each != entry.lesson)
        )
    unsure = {class_id: each for class_id, each in state.unsure.items() if class_id not in said}
    return structs.replace(state, progress=places, unsure=unsure)


def waiting_since(progress: Progress) -> tuple[tuple[int, date], ...]:
    """Parts of the lesson whose drying or firing the class may have to wait for, and when each was taught.

    Out of order, too, nothing can go on with pieces that are wet or in the kiln: the part taught last before the next
    one counts as ever, and each that was done ahead counts from its own date, whichever part comes next.
    """
    ahead = tuple(zip(progress.done_ahead, progress.ahead_on, strict=False))
    before = progress.after or progress.part - 1
    return ahead if progress.taught_on is None or not before else ((before, progress.taught_on), *ahead)


def parts_done(progress: Progress) -> tuple[int, ...]:
    """Numbers of the parts of its present lesson that a class has done, out of order or not."""
    return (*range(1, progress.part), *progress.done_ahead)


def parts_done_before(visit: Visit, step: Step) -> tuple[int, ...]:
    """The same for a visit in which ``step`` is taught: without those left out where another part was chosen."""
    done = range(1, visit.next_part or step.part)
    return (*done, *(n for n in visit.done_ahead if n not in done and n != step.part))


def _next_lesson(plan: Plan, class_: SchoolClass, done: tuple[str, ...]) -> str:
    """The grade's first lesson that is not done, else the filler, else none."""
    filler = plan.school.habits.filler
    wanted = (each for each in plan.teaching.get(class_.grade, ()) if each not in done and each in plan.lesson_by_id)
    return next(wanted, filler if filler in plan.lesson_by_id else "")
