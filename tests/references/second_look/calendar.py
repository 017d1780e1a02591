"""School days and what each is called in the timetable, counted off day by day."""

from __future__ import annotations

from datetime import date, timedelta

from tests.references.second_look.plan import Table

NAMES = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")


def planned_days(plan: Table) -> list[date]:
    """Monday to Friday of the year, days off left out; found once for a school."""
    if "planned days" not in plan:
        plan["planned days"] = _days_of_the_year(plan["school"])
    return list(plan["planned days"])


def _days_of_the_year(school: Table) -> list[date]:
    off = []
    for each in school.get("days_off", []):
        day = each["first"]
        while day <= each.get("last", each["first"]):
            off.append(day)
            day += timedelta(1)
    found = []
    day = school["first_day"]
    while day <= school["last_day"]:
        if day.weekday() < 5 and day not in off:
            found.append(day)
        day += timedelta(1)
    return found


def school_days(plan: Table, lost: set[date]) -> list[date]:
    return [day for day in planned_days(plan) if day not in lost]


def name_of(plan: Table, day: date, lost: set[date], announced: dict[date, str]) -> str:
    """What a school day is called: its weekday, or the day of the cycle as far as it has come."""
    rotation = plan["school"].get("rotation", {})
    if rotation.get("kind", "weekdays") == "weekdays":
        return NAMES[day.weekday()]
    names = [str(each) for each in rotation["days"]]
    stays = rotation.get("lost_day", "slides") == "fixed"
    place = -1
    for each in planned_days(plan):
        if each > day:
            break
        if stays or each not in lost:
            place += 1
        if each in announced:
            place = names.index(announced[each])
    return names[place % len(names)]


def may_come_from(plan: Table, done: date, days: int, then_school_days: int, lost: set[date]) -> date | None:
    """The first school day after so many days and then so many school days more."""
    if not days and not then_school_days:
        return None
    left = [day for day in school_days(plan, lost) if day >= done + timedelta(days)]
    return left[then_school_days] if len(left) > then_school_days else date.max
