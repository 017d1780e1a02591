"""What is asked about the bells: the first one, how long a period is, how many there are, lunch, planning."""

from __future__ import annotations

from msgspec import structs

from checklists.first_start.bell_times import (
    LATEST,
    MOST_PERIODS,
    DayShape,
    end_of_day,
    period_times,
    read_lunch,
    read_time,
    say_times,
    usual_lunch,
)
from checklists.first_start.question import NONE, Asking, NotTaken, Question, ask, whole_number
from checklists.words import clock


def ask_bells() -> Asking[DayShape]:
    """Ask them all; each answer shows the times it makes."""
    shape = DayShape()
    first_bell = yield from ask(_first_bell())
    shape = structs.replace(shape, first_bell=first_bell)
    length = yield from ask(
        _minutes("period length", "Period", "How many minutes is a period?", 20, 120, "45", shape, "length")
    )
    shape = structs.replace(shape, length=length)
    between = yield from ask(
        _minutes("between", "Between", "How many minutes are between two periods?", 0, 30, "5", shape, "between")
    )
    shape = structs.replace(shape, between=between)
    periods = yield from ask(_periods(shape))
    shape = structs.replace(shape, periods=periods)
    lunch = yield from ask(_lunch(shape))
    shape = structs.replace(shape, lunch=lunch)
    planning = yield from ask(_planning(shape))
    return structs.replace(shape, planning=planning)


def _first_bell() -> Question[int]:
    def read(text: str) -> int:
        minute = read_time(text, earliest=0)
        if not 6 * 60 <= minute <= 12 * 60:
            raise NotTaken("The first period begins between 6:00 and 12:00: type it as 8:20 or 820.")
        return minute

    return Question(
        "first bell",
        "First bell",
        "When does the first period begin?",
        "Type it as 8:20 or 820.",
        "8:00",
        read,
        clock,
    )


def _minutes(
    ident: str, topic: str, text: str, least: int, most: int, default: str, shape: DayShape, field: str
) -> Question[int]:
    def say(minutes: int) -> str:
        now = structs.replace(shape, **{field: minutes}, periods=3)
        return f"{minutes} min: {say_times(now)} …"

    return Question(
        ident,
        topic,
        text,
        f"Type a number from {least} to {most}.",
        default,
        lambda typed: whole_number(typed.removesuffix("min").strip(), least, most, "Minutes"),
        say,
    )


def _fits(shape: DayShape) -> bool:
    return end_of_day(shape) <= LATEST


def _periods(shape: DayShape) -> Question[int]:
    most = max(n for n in range(1, MOST_PERIODS + 1) if n == 1 or _fits(structs.replace(shape, periods=n)))

    return Question(
        "periods",
        "Periods",
        "How many periods has a day?",
        f"Type a number from 1 to {most}, lunch not counted.",
        str(min(7, most)),
        lambda typed: whole_number(typed, 1, most, "Periods a day"),
        lambda count: f"{count}: {say_times(structs.replace(shape, periods=count))}",
    )


def _lunch(shape: DayShape) -> Question[tuple[int, int] | None]:
    usual = usual_lunch(shape)

    def read(text: str) -> tuple[int, int] | None:
        lunch = read_lunch(text, shape)
        if not _fits(structs.replace(shape, lunch=lunch)):
            raise NotTaken(f"The day would end after {clock(LATEST)}.")
        return lunch

    def say(lunch: tuple[int, int] | None) -> str:
        times = say_times(structs.replace(shape, lunch=lunch), most=12)
        if lunch is None:
            return f"none: {times}"
        return f"{clock(lunch[0])}-{clock(lunch[1])}; periods {times}"

    return Question(
        "lunch",
        "Lunch",
        "When is lunch?",
        "Type it as 11:15-11:45, or 11:15 30 for half an hour, or none. The periods after it follow.",
        f"{clock(usual[0])}-{clock(usual[1])}" if _fits(structs.replace(shape, lunch=usual)) else "none",
        read,
        say,
    )


def _planning(shape: DayShape) -> Question[int]:
    times = {name: f"{clock(start)}-{clock(end)}" for name, start, end in period_times(shape)}

    def read(text: str) -> int:
        if text.casefold() in NONE:
            return 0
        number = whole_number(text.upper().removeprefix("P"), 1, shape.periods, "The period")
        if shape.periods == 1:
            raise NotTaken("It is the only period: none.")
        return number

    return Question(
        "planning",
        "Planning",
        "Is one period planning time on every day?",
        "Type its number, 5 or P5. If it differs from day to day: none, and say later that nobody comes then.",
        "none",
        read,
        lambda number: f"P{number}, {times[f'P{number}']}" if number else "no period of every day",
    )
