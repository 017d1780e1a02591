"""What must not be missed on a day, the gravest kind first: each kind in one row of the list, in full on a page."""

from __future__ import annotations

from datetime import date
from typing import TYPE_CHECKING

from checklists.book import Book
from checklists.daybook.line_states import is_settled
from checklists.daybook.marks import Marks
from checklists.daybook.said_of_cases import say_case, say_loan
from checklists.lines.records import Caution, Container, Day, Decision
from checklists.pages.reasons import is_hidden, without_repeats
from checklists.route.cautions_beside import cautions_beside
from checklists.words import join_words, plural, say_date, say_room
from tui.sections import decision_text
from tui.widgets.notice import Notice
from tui.wording import visits_text

if TYPE_CHECKING:
    from checklists.asking import Asked
    from checklists.route.departure import Departure

KEYS_THAT_ANSWER = {
    "yes or no": "y yes  m no",
    "number": "y how many  m none",
    "right or number": "y right  m other number",
}
PRIVATE_CAUTION = "a private caution; w shows it"


def brief_notices(
    book: Book, day: Day, marks: Marks, known: tuple[Notice, ...], departure: Departure
) -> tuple[Notice, ...]:
    """What stands above the list: every kind once, so that none hides another. ``known``: see ``steady_notices``."""
    found = [
        *date_notices(book),
        *unsaid_notices(book, day),
        *brief_decisions(day),
        *brief_cases(book, day, marks),
        *brief_counts(day, marks),
        *file_notices(book),
    ]
    found += [
        *question_notices(day, book.facts_asked(day.date)),
        *brief_away(book, day, marks, departure),
        *brief_loans(book, day, marks),
    ]
    return (*found, *known)


def date_notices(book: Book) -> list[Notice]:
    """That the computer's date cannot be right."""
    doubt = book.doubt_of_date()
    return [Notice("!", doubt.text, critical=True)] if doubt is not None and doubt.is_wrong else []


def is_without_day(book: Book, day: date) -> bool:
    """Whether the timetable has nothing for a date, as far as a glance tells."""
    listed = book.day(day)
    return bool(listed.school_day) and listed.day_name not in book.plan.timetable


def unsaid_notices(book: Book, day: Day) -> list[Notice]:
    """That nobody has said yet who comes on this day of a new school's timetable."""
    if not is_without_day(book, day.date):
        return []
    from checklists.first_start.later_days import is_unsaid, say_day

    if not is_unsaid(book, day.date):
        return []
    return [Notice("?", f"Nobody has said yet who comes on {say_day(book.plan, day.day_name)}.", end="Tab: say it")]


def steady_notices(book: Book, day: Day) -> tuple[Notice, ...]:
    """What no step of the day changes: cautions, and what could not be worked out or read."""
    hidden = len(private_notices(day))
    private = [Notice("i", f"{plural(hidden, 'private caution')}: i shows which", fresh=False)] if hidden else []
    return (*caution_notices(book, day), *private, *known_notices(book, day))


def all_notices(book: Book, day: Day, marks: Marks) -> tuple[Notice, ...]:
    """Everything to know about the day, one by one."""
    away = [*fetch_notices(book, day, marks), *loan_notices(book, day, marks)]
    asked = [Notice("?", question.text) for question in day.questions]
    asked += [Notice("?", fact.text) for fact in book.facts_asked(day.date)]
    decide = [_decision(each, decision_text(each, day), key=each.key) for each in day.decisions]
    counts = [Notice("!", text, critical=True) for text in pending(day, marks)]
    found = [*date_notices(book), *decide, *case_notices(book, day, marks), *counts, *file_notices(book), *asked, *away]
    return (*found, *caution_notices(book, day), *private_notices(day), *known_notices(book, day))


def brief_decisions(day: Day) -> list[Notice]:
    """The first visit that is to be decided about, and how many more there are."""
    more = f" ({len(day.decisions) - 1} more)" if day.decisions[1:] else ""
    return [_decision(each, f"{decision_text(each, day)}{more}", end="j: choose") for each in day.decisions[:1]]


def _decision(decision: Decision, text: str, *, key: str = "", end: str = "") -> Notice:
    return Notice("!" if decision.stops else "?", text, critical=decision.stops, key=key, end=end)


def case_notices(book: Book, day: Day, marks: Marks) -> list[Notice]:
    """Every missing thing whose case is open; those nobody was told of yet are critical."""
    if not day.open_cases and not marks.sharps and not marks.late_counts:
        return []
    from checklists.daybook.cases import cases_now

    plan = book.plan
    return [Notice("!", say_case(plan, each), critical=not each.reported_to) for each in cases_now(plan, day, marks)]


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
    found += [Notice("i", text, critical=True, end="Tab: both") for text in versions_text(book)]
    return found + [Notice("i", str(problem), critical=True) for problem in book.problems if problem.level == "grave"]


def versions_text(book: Book) -> list[str]:
    """That there are two versions of a day, so that what was ticked in one of them is not on this list."""
    days = book.days_in_two_versions
    if not days:
        return []
    more = f" and {plural(len(days) - 1, 'more day')}" if days[1:] else ""
    return [f"Two versions of {say_date(days[0])}{more}: ticks of one are not on the list"]


def question_notices(day: Day, facts: tuple[Asked, ...]) -> list[Notice]:
    """The first question with the keys that answer it; the others wait their turn, facts after visits."""
    texts = [*(each.text for each in day.questions), *(each.text for each in facts)]
    if not texts:
        return []
    more = f" ({len(texts) - 1} more to ask)" if texts[1:] else ""
    keys = "y done  m missed" if day.questions else f"{KEYS_THAT_ANSWER[facts[0].takes]}  ; later"
    return [Notice("?", f"{texts[0]}{more}", end=keys)]


def is_away(container: Container, day: Day, marks: Marks) -> bool:
    """Whether a container is still somewhere else than at the store, as far as she said."""
    if container.id in marks.places:
        return marks.places[container.id].place != "store"
    fetched = any(matter.container == container.id and is_settled(matter.key, marks) for matter in day.matters)
    return container.place != "store" and not fetched


def place_of(container: Container, marks: Marks) -> str:
    said = marks.places.get(container.id)
    return said.place if said is not None else container.place


def pending(day: Day, marks: Marks) -> list[str]:
    """Counts that are still to be made, in words."""
    if not marks.count_later and all(matter.kind != "count pending" for matter in day.matters):
        return []
    from checklists.daybook.counts_pending import counts_pending

    return list(counts_pending(day, marks))


def brief_counts(day: Day, marks: Marks) -> list[Notice]:
    """The first count that is still to be made, and how many more there are."""
    counts = pending(day, marks)
    more = f" ({len(counts) - 1} more)" if counts[1:] else ""
    return [Notice("!", f"{text}{more}", critical=True) for text in counts[:1]]


def fetch_notices(book: Book, day: Day, marks: Marks, departure: Departure | None = None) -> list[Notice]:
    """Every container that is to be fetched, as needed first."""
    found = (departure or book.departure(day.date)).to_fetch(day, marks)
    return [Notice("@", f"{each.words} ({each.detail})" if each.detail else each.words) for each in found]


def brief_away(book: Book, day: Day, marks: Marks, departure: Departure) -> list[Notice]:
    """One container to fetch in full; of several where they are."""
    found = departure.to_fetch(day, marks)
    if len(found) < 2:
        return fetch_notices(book, day, marks, departure)
    places = join_words(f"{each.name} in {say_room(each.place)}" for each in found)
    return [Notice("@", f"FETCH {len(found)} containers: {places}")]


def loan_notices(book: Book, day: Day, marks: Marks) -> list[Notice]:
    """Everything that is lent: to know, nothing is missing."""
    if not day.lent and not marks.loans:
        return []
    from checklists.daybook.lending import loans_now

    return [Notice("@", say_loan(book.plan, loan, day.date)) for loan in loans_now(day, marks)]


def brief_loans(book: Book, day: Day, marks: Marks) -> list[Notice]:
    """The oldest loan, and how many more there are."""
    loans = loan_notices(book, day, marks)
    more = f" ({len(loans) - 1} more)" if loans[1:] else ""
    return [Notice("@", f"{each.text}{more}") for each in loans[:1]]


def caution_notices(book: Book, day: Day) -> tuple[Notice, ...]:
    """New cautions, critical ones first, and what could not be worked out; each in the same words only once."""
    known = cautions_beside(day.cautions, book.route(day.date).by_store if day.visits else ())
    shown = [caution for caution in known if not is_hidden(caution, private=False)]
    each_once = without_repeats(shown, day.visits)
    grave = [caution.key for caution, _ in each_once if caution.critical and caution.is_new]
    said = [
        Notice(
            "!" if caution.key in grave else "i",
            said_for(caution, visits, day),
            critical=caution.key in grave,
            fresh=caution.is_new,
            key=caution.key,
        )
        for caution, visits in each_once
    ]
    found = [each for each in said if each.critical]
    found += [Notice("i", note) for note in day.notes]
    found += [each for each in said if not each.critical]
    return tuple(found)


def private_notices(day: Day) -> list[Notice]:
    """That there are cautions which tell of a child's need, one by one; what they say is on the why page."""
    hidden = [caution for caution in day.cautions if is_hidden(caution, private=False)]
    return [Notice("i", PRIVATE_CAUTION, fresh=False, key=caution.key) for caution in hidden]


def said_for(caution: Caution, visits: tuple[str, ...], day: Day) -> str:
    """A caution with the visits it is for, where it is for several."""
    if len(visits) < 2:
        return caution.what
    return f"{visits_text(visit for visit in day.visits if visit.key in visits)}: {caution.what}"


def known_notices(book: Book, day: Day) -> list[Notice]:
    return [Notice("i", str(problem), fresh=False) for problem in book.problems if problem.level != "grave"]
