"""What she types behind a question, read: counts back, class-list numbers of absent children, how many are not done."""

from __future__ import annotations

import re
from datetime import datetime

from msgspec import structs

from checklists.daybook.cases import found_of
from checklists.daybook.class_list import say_not_on_list
from checklists.daybook.counting_back import lent_after_all
from checklists.daybook.entries import AnyEntry, CountedSharps, Reported, ReportedMissing
from checklists.daybook.lending import give_back
from checklists.daybook.matters import OpenMatter
from checklists.daybook.shorthand import Shorthand, read_shorthand
from checklists.daybook.visit_said import SaidOfVisit, report_over

_NUMBERS = re.compile(r"^\d+(?:[\s,;]+\d+)*$")
_AWAY = re.compile(r"^(\d+)\s*(?:a|away|absent|missing)$")
_HALF = re.compile(r"(\d+)\s*(?:half|h)\b")
_PART = re.compile(r"^p(?:art)?\s*(\d+)$")
_OUT_AND_BACK = re.compile(r"^(\d{1,4})\s*/\s*(\d{1,4})$")
_CLOCK = re.compile(r"^\d{1,2}:\d{2}$")
MOST = 400
"""No class-list number, and no count of children, is larger."""
MOST_TOO_MANY = 20
"""More than so many too many of a counted thing are a slip of the finger."""


def entries_typed(matter: OpenMatter, text: str, at: datetime) -> tuple[AnyEntry, ...] | str:
    """The entries for a typed text, or what is wrong with it, in words."""
    said = " ".join(text.split()).casefold()
    match matter.typed:
        case "count":
            return _count(matter, said, at)
        case "missed":
            return _missed(matter, said, at)
        case "not done":
            return _reached(matter, said, at)
        case "given back":
            return _given_back(matter, said, at)
        case "case":
            return _case(matter, text.strip(), at)
    return "There is nothing to type here: choose one of the answers."


def _count(matter: OpenMatter, said: str, at: datetime) -> tuple[AnyEntry, ...] | str:
    if said == "=":
        said = str(matter.out)
    both = _OUT_AND_BACK.match(said)
    went = int(both[1]) if both else matter.out
    said = both[2] if both else said
    if not said.isdecimal() or len(said) > 4:
        return f"Type how many came back, 0 to {matter.out}, or = for all {matter.out}."
    if int(said) > went + MOST_TOO_MANY:
        return f"{went} went out. Type how many came back."
    back = int(said)
    return (CountedSharps(at=at, visit=matter.visit, supply=matter.supply, out=went, back=back, on=matter.on),)


def _given_back(matter: OpenMatter, said: str, at: datetime) -> tuple[AnyEntry, ...] | str:
    loan = matter.loan
    if loan is None or not said.isdecimal() or len(said) > 4 or not 0 < int(said) <= loan.count:
        return f"Type how many are back, 1 to {loan.count if loan is not None else 0}."
    return (give_back(loan, at, int(said)),)


def _case(matter: OpenMatter, said: str, at: datetime) -> tuple[AnyEntry, ...] | str:
    """f where it was found and by whom, r whom she told and when, l who has borrowed it."""
    letter, _, rest = said.partition(" ")
    words = " ".join(rest.split())
    case = matter.missing
    if case is None or not words or letter.casefold() not in ("f", "r", "l"):
        return "Type f and where it was found, r and whom you told, or l and who has it: f under the sink, by Al."
    if letter.casefold() == "l":
        return lent_after_all(case, at, matter.container, words, "")
    if letter.casefold() == "r":
        whom, _, when = words.rpartition(" ")
        whom, when = (whom, when) if whom and _CLOCK.match(when) else (words, "")
        return (ReportedMissing(at=at, case=case.key, to_whom=whom.rstrip(" ,"), when=when),)
    count, _, where = words.partition(" ")
    some = int(count) if count.isdecimal() and len(count) < 4 and 0 < int(count) < case.count else None
    where, _, by = (where if some is not None else words).partition(", by ")
    return (found_of(case, at, some, where.strip(), by.strip()),)


def _report(matter: OpenMatter, at: datetime) -> Reported:
    if matter.report is not None:
        return structs.replace(matter.report, at=at)
    return Reported(at=at, visit=matter.visit, outcome="done")


def _missed(matter: OpenMatter, said: str, at: datetime) -> tuple[AnyEntry, ...] | str:
    """Who was absent; with an h behind it, who was there for half of it. Only such numbers: nobody else was missing."""
    half = tuple(sorted({int(number) for number in _HALF.findall(said)}))
    rest = _HALF.sub(" ", said).strip(" ,;")
    report = structs.replace(_report(matter, at), absent=(), absent_count=0, absences_known=True, half=half)
    counted = _AWAY.match(rest)
    if counted and int(counted[1]) <= MOST:
        report = structs.replace(report, absent_count=int(counted[1]))
    elif _NUMBERS.match(rest) and rest != "0":
        report = structs.replace(report, absent=tuple(sorted({int(number) for number in re.findall(r"\d+", rest)})))
    elif rest not in ("", "0", "nobody", "none"):
        return "Type the class-list numbers, as 4 11, or a count with an a behind it, as 2a; 6h was there for half."
    return _say_wrong(matter, report) or (report,)


def _say_wrong(matter: OpenMatter, report: Reported) -> str:
    """What cannot be so; empty where nothing is wrong."""
    both = next((number for number in report.half if number in report.absent), None)
    if both is not None:
        return f"No. {both} cannot be absent and there for half of it. Type one of them."
    if matter.school_class is not None:
        return say_not_on_list(matter.school_class, (*report.absent, *report.half))
    wrong = next((number for number in (*report.absent, *report.half) if not 1 <= number <= MOST), None)
    return "" if wrong is None else f"There is no number {wrong} on a class list."


def _reached(matter: OpenMatter, said: str, at: datetime) -> tuple[AnyEntry, ...] | str:
    """A plain number is how many are not done; else words as in a line about a visit: f9,12 by number, p3, i3."""
    line = read_shorthand(_PART.sub(r"p\1", said if not said.isdecimal() else f"{said}f"))
    told = SaidOfVisit()
    if isinstance(line, Shorthand):
        told = SaidOfVisit(
            outcome=line.outcome,
            not_done=line.not_done,
            not_done_numbers=line.not_done_numbers,
            reached=line.part if line.outcome == "went further" else None,
            taught=line.part if line.outcome == "another part" else None,
        )
    is_of_that = isinstance(line, Shorthand) and line == Shorthand(
        outcome=line.outcome, part=line.part, not_done=line.not_done, not_done_numbers=line.not_done_numbers
    )
    if not is_of_that or told == SaidOfVisit() or matter.planned is None or matter.school_class is None:
        return "Type how many are not done, as 3, or who, as f9,12; p3: went on through part 3, i3: part 3 instead."
    found = report_over(matter.planned, matter.school_class, matter.lesson, matter.report, told, at)
    return found if isinstance(found, str) else (found,)
