"""What stands in the plan, in words: a value, one thing of a list in a line, a whole list in short."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from datetime import date
from typing import Any, cast

from checklists.forms.fields import Field, fields_of, words_of_record
from checklists.pages.known_class import say_place
from checklists.plan.naming import LESSON, PLACE, ROOM, SUPPLY
from checklists.plan.records import (
    Bells,
    Box,
    Break,
    Building,
    DayOff,
    Item,
    Kit,
    Lesson,
    Need,
    Part,
    Period,
    Plan,
    Prep,
    Room,
    SchoolClass,
    Spare,
    Supply,
    Wait,
    Walk,
)
from checklists.walks import STORE
from checklists.words import join_words, plural, say_date, say_number, say_room

BASIS = {"student": "child", "lesson": "lesson"}


def say_value(plan: Plan, field: Field, value: Any) -> str:
    """A value as it stands beside its label; never empty."""
    chosen = next(
        (each.words for each in field.choices if each.value == value and type(each.value) is type(value)), None
    )
    if chosen is not None:
        return chosen
    if value is None or value == "" or value == () or value == {}:
        return "not said" if value is None or value == "" else "none"
    if field.private:
        return f"{len(value)} noted, private"
    if field.way == "list":
        return say_several(plan, value)
    if field.way == "record":
        return say_one(plan, value)
    if field.way == "counts":
        return join_words([f"{count} {say_name(plan, field.names, key)}" for key, count in value.items()])
    if isinstance(value, tuple):
        return join_words([say_name(plan, field.names, str(each)) for each in value])
    if field.names and isinstance(value, str):
        return say_name(plan, field.names, value)
    said = say_date(value) + f" {value.year}" if isinstance(value, date) else str(value)
    if isinstance(value, int | float) and not isinstance(value, bool):
        said = say_number(value)
    return f"{said} {field.unit}".rstrip()


def say_name(plan: Plan, kind: str, name: str) -> str:
    """What a thing of a kind is called."""
    if kind == SUPPLY:
        return plan.name_of_supply(name)
    if kind == LESSON:
        return plan.title_of_lesson(name)
    if kind in (ROOM, PLACE):
        return "the store" if name == STORE else say_room(name)
    if kind == "kit" or (kind == "container" and name in plan.kit_by_id):
        kit = plan.kit_by_id.get(name)
        return f"{kit.name} kit" if kit is not None else name
    if kind in ("need", "thing to avoid", "mark"):
        return plan.supply_by_id[name].name if name in plan.supply_by_id else name.replace("-", " ")
    return name


def say_several(plan: Plan, records: Sequence[Any]) -> str:
    """How many there are, and the first of them where they are few."""
    title = words_of_record(type(records[0])).title
    names = [name_of(plan, each) for each in records]
    if len(names) <= 3:
        return join_words(names)
    several = {"box": "boxes", "class": "classes", "supply": "supplies", "day off": "days off"}.get(title, "")
    return plural(len(names), title, several)


def name_of(plan: Plan, record: Any) -> str:
    """What one thing is called."""
    if isinstance(record, Room):
        return say_room(record.id)
    if isinstance(record, Box):
        return f"Box {record.grade}"
    if isinstance(record, Walk):
        return " to ".join(say_name(plan, PLACE, each) for each in record.between)
    if isinstance(record, DayOff):
        return f"{say_date(record.first)}{f' to {say_date(record.last)}' if record.last is not None else ''}"
    if isinstance(record, Item):
        return plan.name_of_supply(record.supply)
    if isinstance(record, Need):
        return record.need.replace("-", " ")
    for field in ("title", "name", "what", "id"):
        if getattr(record, field, ""):
            return str(getattr(record, field))
    return words_of_record(type(record)).title


def say_one(plan: Plan, record: Any) -> str:
    """What is to be known of one thing, beside its name or in place of it."""
    said: dict[type, Callable[[Any], str]] = {
        Period: lambda it: f"{it.start}-{it.end}",
        Break: lambda it: f"{it.start}-{it.end}",
        DayOff: lambda it: it.reason,
        Bells: lambda it: f"{plural(len(it.periods), 'period')}, {_from_to(it)}" if it.periods else "no periods",
        Room: _say_room_facts,
        Walk: lambda it: f"{it.minutes} min",
        Building: lambda it: f"{plural(len(it.rooms), 'room')}, {it.drive_minutes} min by car",
        SchoolClass: lambda it: f"{say_place(it)}",
        Need: lambda it: plural(it.count, "child"),
        Supply: _say_supply,
        Box: lambda it: _say_shelf(it.shelf, len(it.standing)),
        Kit: lambda it: _say_shelf(it.shelf, len(it.holds)),
        Lesson: lambda it: f"{plural(len(it.parts), 'part')}{f', grades {join_words(it.grades)}' if it.grades else ''}",
        Part: lambda it: f"{it.minutes} min, {plural(len(it.items), 'thing')}",
        Item: _say_item,
        Prep: lambda it: f"{it.minutes} min, {_say_before(it.days_before)}",
        Wait: _say_wait,
        Spare: lambda it: f"at least {it.at_least}, or {say_number(it.percent)} %",
    }
    if type(record) in said:
        return said[type(record)](record)
    shown = [(each, getattr(record, each.name)) for each in fields_of(cast(type, type(record)))[:2]]
    return ", ".join(say_value(plan, field, value) for field, value in shown if value not in (None, "", ()))


def _from_to(bells: Bells) -> str:
    return f"{bells.periods[0].start}-{bells.periods[-1].end}"


def _say_room_facts(room: Room) -> str:
    facts = [(room.sink, "sink"), (room.carpet, "carpet"), (room.projector, "projector")]
    said = [word for fact, word in facts if fact] + [f"no {word}" for fact, word in facts if fact is False]
    unknown = [word for fact, word in facts if fact is None]
    said += ["upstairs"] if room.upstairs else []
    said += [f"not known: {join_words(unknown)}"] if unknown else []
    return ", ".join(said)


def _say_supply(supply: Supply) -> str:
    has = "" if supply.on_hand is None else f"{supply.on_hand}"
    return ", ".join(each for each in (has, f"shelf {supply.shelf}" if supply.shelf else "") if each)


def _say_shelf(shelf: str, things: int) -> str:
    return ", ".join(each for each in (f"shelf {shelf}" if shelf else "", plural(things, "thing") + " in it") if each)


def say_count(item: Item) -> str:
    """How many of it, for each of what."""
    return f"{say_number(item.count)} for each {BASIS.get(item.per, item.per)}"


def _say_item(item: Item) -> str:
    more = [word for word, is_so in (("critical", item.critical), ("demo", item.demo)) if is_so]
    return ", ".join((say_count(item), *more))


def _say_before(days: int) -> str:
    return f"{plural(days, 'school day')} before" if days else "on the day"


def _say_wait(wait: Wait) -> str:
    said = [plural(wait.days, "day")] if wait.days else []
    said += [plural(wait.then_school_days, "school day")] if wait.then_school_days else []
    at_most = f", at most {wait.at_most_days} days" if wait.at_most_days is not None else ""
    return f"{' and '.join(said) or 'no time'}{at_most}{f', {wait.why}' if wait.why else ''}"
