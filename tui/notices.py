"""What must not be missed on a day, the gravest kind first: each kind in one row of the list, in full on a page."""

from __future__ import annotations

from checklists.book import Book
from checklists.daybook.marks import Marks, is_settled
from checklists.lines.records import Container, Day
from checklists.pages.reasons import is_hidden
from checklists.words import join_words, plural, say_room
from tui.widgets.notice import Notice
from tui.wording import visits_text


def brief_notices(book: Book, day: Day, marks: Marks) -> tuple[Notice, ...]:
    """What stands above the list: every kind once, so that none hides another."""
    found = [*brief_cases(book, day, marks), *file_notices(book), *question_notices(day), *brief_away(day, marks)]
    return (*found, *caution_notices(day), *known_notices(book, day))


def all_notices(book: Book, day: Day, marks: Marks) -> tuple[Notice, ...]:
    """Everything to know about the day, one by one."""
    away = [away_notice(container, day) for container in day.containers if is_away(container, day, marks)]
    asked = [Notice("?", question.text) for question in day.questions]
    found = [*case_notices(book, day, marks), *file_notices(book), *asked, *away]
    return (*found, *caution_notices(day), *known_notices(book, day))


def case_notices(book: Book, day: Day, marks: Marks) -> list[Notice]:
    """Every missing thing whose case is open; those nobody was told of yet are critical."""
    told = {case.key for case in book.opening(day.date).cases if case.reported_to} | set(marks.reported_cases)
    found = zip(day.case_keys, day.cases, strict=True)
    return [Notice("!", text, critical=key not in told) for key, text in found if key not in marks.closed_cases]


def brief_cases(book: Book, day: Day, marks: Marks) -> list[Notice]:
    """One missing thing in full; of several how many they are, and how many nobody was told of."""
    cases = case_notices(book, day, marks)
    if len(cases) < 2:
        return cases
    untold = sum(case.critical for case in cases)
    which = f"{untold} not reported" if untold else "all reported"
    return [Notice("!", f"{len(cases)} things missing, {which}", critical=bool(untold), end="i: which")]


def file_notices(book: Book) -> list[Notice]:
    """That nothing can be written, and files of the plan that do not read."""
    found = [] if book.writable else [Notice("i", f"Nothing can be written: {book.why_read_only}", critical=True)]
    return found + [Notice("i", str(problem), critical=True) for problem in book.problems if problem.level == "grave"]


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


def place_of(container: Container, marks: Marks) -> str:
    said = marks.places.get(container.id)
    return said.place if said is not None else container.place


def away_notice(container: Container, day: Day) -> Notice:
    since = f" since {container.place_since}" if container.place_since else ""
    visits = visits_text(visit for visit in day.visits if visit.key in container.visits)
    needed = f", needed for {visits}" if visits else ""
    return Notice("@", f"{container.name} stands in {say_room(container.place)}{since}{needed}")


def brief_away(day: Day, marks: Marks) -> list[Notice]:
    away = [container for container in day.containers if is_away(container, day, marks)]
    if len(away) < 2:
        return [away_notice(container, day) for container in away]
    places = join_words(f"{container.name} in {say_room(place_of(container, marks))}" for container in away)
    return [Notice("@", f"{len(away)} containers elsewhere: {places}")]


def caution_notices(day: Day) -> list[Notice]:
    """New cautions, critical ones first, and what could not be worked out. What tells of a child's need is counted."""
    shown = [caution for caution in day.cautions if not is_hidden(caution, private=False)]
    grave = [caution for caution in shown if caution.critical and caution.is_new]
    found = [Notice("!", caution.what, critical=True) for caution in grave]
    found += [Notice("i", note) for note in day.notes]
    found += [Notice("i", caution.what, fresh=caution.is_new) for caution in shown if caution not in grave]
    hidden = len(day.cautions) - len(shown)
    return [*found, Notice("i", f"{plural(hidden, 'private caution')}: w on this page shows them", fresh=False)][
        : len(found) + bool(hidden)
    ]


def known_notices(book: Book, day: Day) -> list[Notice]:
    return [Notice("i", str(problem), fresh=False) for problem in book.problems if problem.level != "grave"]
