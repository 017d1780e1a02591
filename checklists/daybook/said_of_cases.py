"""Missing and lent things in words: for lists, questions and messages."""

from __future__ import annotations

from datetime import date

from checklists.daybook.entries import ClosedCase
from checklists.daybook.state import Case, Loan
from checklists.plan.records import Plan
from checklists.words import say_date, say_room


def say_reported(to_whom: str, when: str) -> str:
    """ "reported to the office, Mon 5 Oct 15:05"; "not reported yet"."""
    if not to_whom:
        return "not reported yet"
    day, _, time = when.partition(" ")
    try:
        told = f"{say_date(date.fromisoformat(day))} {time}".strip()
    except ValueError:
        told = when
    return f"reported to {to_whom}" + (f", {told}" if told else "")


def say_case(plan: Plan, case: Case) -> str:
    """ "Missing: 1 scissors since Room 12, Mon 5 Oct P3 3-B, 13 out 12 back, reported to Al, Tue 6 Oct 7:50"."""
    place = f"{say_room(case.room)}, {say_date(case.date)} {case.period} {case.school_class}"
    out = f"{case.out} out {case.back} back"
    reported = say_reported(case.reported_to, case.reported_when)
    return f"Missing: {case.count} {plan.name_of_supply(case.supply)} since {place}, {out}, {reported}"


def say_closed(closed: ClosedCase) -> str:
    """How a case ended: "found in a desk, Room 12, by Mr Hale"."""
    if closed.lent:
        return f"it is lent{f', {closed.where}' if closed.where else ''}"
    where = f": {closed.where}" if closed.where else ""
    by = f", by {closed.by}" if closed.by else ""
    when = f", {closed.when}" if closed.when else ""
    return f"{'found' if closed.found else 'closed without it'}{where}{by}{when}"


def say_loan(plan: Plan, loan: Loan, today: date) -> str:
    """ "lent: 12 scissors, Room 16, since 8:40"; of an earlier day "since Mon 5 Oct 8:40"."""
    what = f"{loan.count} {plan.name_of_supply(loan.supply)}"
    return f"lent: {what}, {say_borrower(loan)}, since {say_since(loan, today)}"


def say_since(loan: Loan, today: date) -> str:
    """ "8:40"; of an earlier day "Mon 5 Oct 8:40"."""
    return loan.time if loan.since == today else f"{say_date(loan.since)} {loan.time}"


def say_borrower(loan: Loan) -> str:
    """Who has it, and in which room, as far as said: "Ms Reyes, Room 16"."""
    room = say_room(loan.place) if loan.place else ""
    said = [loan.to, room if room.casefold() != loan.to.casefold() else ""]
    return ", ".join(each for each in said if each) or "somebody"
