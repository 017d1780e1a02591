"""Turn what was typed behind `trundle` into a ``Request``. What is not understood becomes a request that says so."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime, time
from pathlib import Path
from typing import Any

from checklists.commandline.commands import BY_NAME
from checklists.commandline.option import Command, Option
from checklists.commandline.request import NotUnderstood, Request
from checklists.words import clean, nearest

HELP = ("--help", "-h", "-?", "/?")


def parse(argv: Sequence[str], now: datetime | None = None) -> Request:
    """The request in ``argv`` (without the program's name). ``now`` is the clock, read here where it is not given.

    Never raises and never prints: a mistake gives the command "not understood", which ``run`` tells with status 2.
    """
    clock = now or datetime.now()
    words = list(argv)
    if words and words[0] in ("--version", "version"):
        return Request(command="version", now=clock)
    if words and (words[0] in HELP or words[0] == "help"):
        return _help(words[1] if words[0] == "help" and len(words) > 1 else "", clock)
    try:
        name = words.pop(0) if words and not words[0].startswith("-") else "today"
        command = _command_named(name)
        if any(each in HELP for each in words):
            return _help(name, clock)
        return _request(command, *_sort(command, words), clock)
    except NotUnderstood as problem:
        return Request(command="not understood", message=clean(str(problem)), now=clock)


def _help(name: str, clock: datetime) -> Request:
    from checklists.commandline.help import help_for, help_for_all

    command = BY_NAME.get(name)
    return Request(command="help", message=help_for(command) if command else help_for_all(), now=clock)


def _command_named(name: str) -> Command:
    if name in BY_NAME:
        return BY_NAME[name]
    near = nearest(name, BY_NAME)
    meant = f"Did you mean trundle {near}?" if near else "trundle --help lists the commands."
    raise NotUnderstood(f"There is no command {name}. {meant}")


def _sort(command: Command, typed: list[str]) -> tuple[dict[str, Any], tuple[str, ...]]:
    """Option values by field, and the words that belong to no option."""
    options = {each.name: each for each in command.options}
    found: dict[str, Any] = {}
    words: list[str] = []
    rest = iter(typed)
    for each in rest:
        if each == "--":
            words.extend(rest)
        elif not each.startswith("-") or each == "-":
            words.append(each)
        else:
            name, sign, value = each.partition("=")
            option = options.get(name)
            if option is None:
                raise NotUnderstood(_unknown_option(command, name))
            behind = value if sign else None
            found[option.field] = _value(option, found, behind, rest)
    return found, tuple(words)


def _value(option: Option, found: dict[str, Any], value: str | None, rest: Any) -> Any:
    takes_value = option.read is not None or option.field == "folder"
    if option.field in found and not option.several:
        raise NotUnderstood(f"{option.name} was given twice. Give it once.")
    if not takes_value:
        if value is not None:
            raise NotUnderstood(f"{option.name} takes nothing behind it.")
        return True
    if value is None:
        value = next(rest, None)
    if value is None or value == "" or value.startswith("--"):
        raise NotUnderstood(f"{option.name} needs something behind it, like {option.name} {option.example}.")
    if option.read is None:
        return Path(value).expanduser()
    try:
        read = option.read(value)
    except ValueError as problem:
        stop = "" if str(problem).endswith("?") else "."
        raise NotUnderstood(f"{option.name}: {value} {problem}{stop}") from None
    return (*found.get(option.field, ()), read) if option.several else read


def _unknown_option(command: Command, name: str) -> str:
    near = nearest(name, [each.name for each in command.options])
    meant = f"Did you mean {near}?" if near else f"trundle {command.name} --help lists its options."
    return f"trundle {command.name} has no option {name}. {meant}"


def _request(command: Command, found: dict[str, Any], words: tuple[str, ...], clock: datetime) -> Request:
    if len(words) > command.most_words:
        extra = words[command.most_words]
        raise NotUnderstood(f"{extra} has no meaning behind trundle {command.name}. See trundle {command.name} --help.")
    if len(words) < command.least_words:
        raise NotUnderstood(f"Behind trundle {command.name} type {command.words}. See trundle {command.name} --help.")
    day = found.pop("date", None)
    if day == "tomorrow":
        found["tomorrow"] = True
    elif day == "today":
        found["date"] = clock.date()
    elif day is not None:
        found["date"] = day
    if "at" in found:
        minute = found.pop("at")
        clock = datetime.combine(found.get("date", clock.date()), time(minute // 60, minute % 60))
        found["clock_set"] = True
    if found.get("missed") == "unknown":
        found.pop("missed")
        found["missed_unknown"] = True
    request = Request(command=command.name, now=clock, words=words, **found)
    _refuse_contradictions(request)
    return request


def _refuse_contradictions(request: Request) -> None:
    if request.command == "tick":
        ways = {
            "--count": request.count is not None,
            "--short": request.short is not None,
            "--not-needed": bool(request.not_needed),
            "--all": request.whole,
        }
        said = [name for name, given in ways.items() if given]
        if len(said) > 1:
            raise NotUnderstood(f"{said[0]} and {said[1]} cannot both be said of a line. Give one of them.")
        if request.remedy and request.short is None:
            raise NotUnderstood("--remedy goes with --short: trundle tick 13 --short 20 --remedy share.")
    if request.command == "change":
        if request.no_school and request.school:
            raise NotUnderstood("--no-school and --school cannot both be said of a day. Give one of them.")
        others = (request.day, request.bells, request.substitute is not None, request.away is not None)
        of_visits = (request.guests, request.students_of, request.adults_of, request.lessons, request.fill)
        of_times = (request.rooms, request.joined, request.interruptions, request.halves, request.longer_ways)
        of_house = (request.no_mess, request.water_off, request.elevator_out, request.no_cart, request.planning_lost)
        is_said = [each is not None for each in (*of_house, request.store_opens)]
        if request.no_school and any((*others, *of_visits, *of_times, *is_said)):
            raise NotUnderstood("Where there is no school, nothing else can be different. Give --no-school alone.")
    if request.command == "report":
        if request.as_planned and (request.outcome or request.not_done or request.reached):
            raise NotUnderstood("--as-planned says that all were done. Leave it out where they were not.")
        ways_missed = (request.missed is not None, request.missed_count is not None, request.missed_unknown)
        if sum(ways_missed) > 1:
            raise NotUnderstood("--missed and --missed-count say the same thing twice. Give one of them.")
