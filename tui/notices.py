"""What must not be missed on a day, the gravest first."""

from __future__ import annotations

from checklists.book import Book
from checklists.daybook.marks import Marks, is_settled
from checklists.lines.records import Container, Day
from checklists.words import say_room
from tui.widgets.notice import Notice
from tui.wording import visits_text


def notices_of(book: Book, day: Day, marks: Marks) -> tuple[Notice, ...]:
    """Missing sharps, containers in the wrong place, questions, then files and cautions."""
    found = [Notice("!", case, critical=True) for case in day.cases]
    found += [away_notice(container, day) for container in day.containers if is_away(container, day, marks)]
    if not book.writable:
        found.append(Notice("i", f"Nothing can be written: {book.why_read_only}"))
    found += [Notice("i", str(problem)) for problem in book.problems if problem.level == "grave"]
    found += question_notices(day)
    grave = [caution for caution in day.cautions if caution.critical and caution.is_new]
    found += [Notice("!", caution.what, critical=True) for caution in grave]
    found += [Notice("i", note) for note in day.notes]
    others = [caution for caution in day.cautions if caution not in grave]
    found += [Notice("i", caution.what, fresh=caution.is_new) for caution in others]
    found += [Notice("i", str(problem), fresh=False) for problem in book.problems if problem.level != "grave"]
    return tuple(found)


def question_notices(day: Day) -> list[Notice]:
    """The first question with the keys that answer it; the others wait their turn."""
    if not day.questions:
        return []
    first, rest = day.questions[0], len(day.questions) - 1
    more = f" ({rest} more to ask)" if rest else ""
    answers = "m missed  y done" if first.default == "not taught" else "y done  m missed"
    return [Notice("?", f"{first.text}{more}", end=answers)]


def is_away(container: Container, day: Day, marks: Marks) -> bool:
    """Whether a container is still somewhere else than at the store, as far as she said."""
    if container.id in marks.places:
        return marks.places[container.id].place != "store"
    fetched = any(matter.container == container.id and is_settled(matter.key, marks) for matter in day.matters)
    return container.place != "store" and not fetched


def away_notice(container: Container, day: Day) -> Notice:
    since = f" since {container.place_since}" if container.place_since else ""
    visits = visits_text(visit for visit in day.visits if visit.key in container.visits)
    needed = f", needed for {visits}" if visits else ""
    return Notice("@", f"{container.name} stands in {say_room(container.place)}{since}{needed}")
