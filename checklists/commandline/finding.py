"""Find the line, visit, supply or container that was meant; say the nearest one where it is not there."""

from __future__ import annotations

from collections.abc import Iterable

from checklists.calendar import WEEKDAYS
from checklists.commandline.request import NotUnderstood
from checklists.lines.containers import box_of, folder_of, name_of
from checklists.lines.records import Caution, Check, Day, Decision, Line, Matter, TakeOut, Task, Visit
from checklists.pages.reasons import Thing, is_hidden
from checklists.plan.records import Plan, Supply
from checklists.route.departure import Departure, ToLeave
from checklists.words import join_words, nearest, say_date, say_room

Listed = Line | Task | Check | TakeOut | Matter
MOST_NAMED = 5
"""Things that are named where words fit several."""


def find_listed(word: str, day: Day) -> Listed:
    """A line, task, check or thing to take out by its number, or one of these or a carried matter by its key."""
    every: tuple[Listed, ...] = (*day.lines, *day.tasks, *day.checks, *day.take_out, *day.matters)
    by_key = {each.key: each for each in every}
    if word in by_key:
        return by_key[word]
    if word.isascii() and word.isdigit():
        by_number = {str(each.number): each for each in every if not isinstance(each, Matter)}
        if word.lstrip("0") in by_number:
            return by_number[word.lstrip("0")]
        numbers = sorted(int(each) for each in by_number)
        told = f"They go from {numbers[0]} to {numbers[-1]}." if numbers else "That day has no list."
        raise NotUnderstood(f"There is no number {word} on the list of {say_date(day.date)}. {told}")
    raise NotUnderstood(
        f"There is nothing called {word} on the list of {say_date(day.date)}."
        + _meant(word, by_key, "trundle morning shows the numbers.")
    )


def find_trips(words: Iterable[str], departure: Departure) -> tuple[ToLeave, ...]:
    """What is left ahead from the stop that comes next, by "leave ahead" and words of it; empty: other words.

    Raises NotUnderstood where nothing that is left ahead has the words.
    """
    said = " ".join(words).casefold()
    if not said.startswith("leave ahead"):
        return ()
    found = tuple(each for each in departure.to_leave if set(said.split()) <= _single_words(each))
    if not found:
        when = departure.when or "before school"
        there = join_words(f"{join_words(each.names)} in {say_room(each.room)}" for each in departure.to_leave)
        raise NotUnderstood(f"Left ahead {when}: {there}." if there else "Nothing is left ahead from the next stop.")
    return found


def _single_words(trip: ToLeave) -> set[str]:
    return set(trip.words.casefold().replace(",", " ").split())


def find_thing(words: tuple[str, ...], day: Day, *, private: bool) -> Thing:
    """Anything that can be asked why it is there: by its number or key, else by words of it."""
    if len(words) == 1 and (words[0].isdigit() or "/" in words[0]):
        every: tuple[Thing, ...] = (*day.cautions, *day.decisions)
        by_key = {each.key: each for each in every}
        return by_key[words[0]] if words[0] in by_key else find_listed(words[0], day)
    said = " ".join(words)
    texts = [(each, _words_of(each, day).casefold()) for each in _things(day, private)]
    whole = [(each, text) for each, text in texts if said.casefold() in text]
    found = whole or [(each, text) for each, text in texts if all(word in text for word in said.casefold().split())]
    if not found:
        raise NotUnderstood(
            f"Nothing on the list of {say_date(day.date)} has the words {said}. trundle morning shows the list."
        )
    if len({text for _, text in found}) > 1:
        first = "\n".join(f"  {_numbered(each, day)}" for each, _ in found[:MOST_NAMED])
        raise NotUnderstood(f"{len(found)} things have the words {said}. Say the number, or more words, as of\n{first}")
    return found[0][0]


def _things(day: Day, private: bool) -> list[Thing]:
    """Everything that can be found by words; what tells of a child's need only where it was asked for."""
    open_to_all: tuple[Thing, ...] = (*day.decisions, *day.lines, *day.take_out, *day.matters)
    others: tuple[Task | Check | Caution, ...] = (*day.tasks, *day.checks, *day.cautions)
    return [*open_to_all, *(each for each in others if not is_hidden(each, private))]


def _words_of(thing: Thing, day: Day) -> str:
    """The words by which a thing can be found."""
    names = {each.id: each.name for each in day.containers}
    if isinstance(thing, Line):
        kit = f" catch-up kit missed it {thing.catch_up_for}" if thing.catch_up_for else ""
        return f"{thing.name} {names.get(thing.container, thing.container)}{kit}"
    if isinstance(thing, TakeOut):
        return f"take out {thing.count} {thing.name} {names.get(thing.container, thing.container)}"
    if isinstance(thing, Matter):
        return thing.what
    visit = next((each for each in day.visits if each.key == thing.visit), None)
    whom = f" {visit.name} {visit.class_id}" if visit is not None else ""
    return (thing.text if isinstance(thing, Decision) else thing.what) + whom


def _numbered(thing: Thing, day: Day) -> str:
    number = getattr(thing, "number", 0)
    return f"{number}  {_words_of(thing, day)}" if number else _words_of(thing, day)


def find_line(word: str, day: Day) -> Line:
    found = find_listed(word, day)
    if not isinstance(found, Line):
        raise NotUnderstood(
            f"{word} is no line of a container, so no number can be said of it. Tick it without a number."
        )
    return found


def find_visit(word: str, day: Day) -> Visit:
    """A visit as "V3", "3", "3-B", "P3" or "P3 3-B"; of two visits of one class the first."""
    typed = word.casefold()
    for visit in day.visits:
        if typed in (visit.name.casefold(), str(visit.number), visit.key.casefold()):
            return visit
    for visit in day.visits:
        if typed in (visit.class_id.casefold(), visit.period.casefold()):
            return visit
    if not day.visits:
        raise NotUnderstood(f"There are no visits on {say_date(day.date)}. Say the day with --date.")
    there = join_words(f"{visit.name} {visit.class_id}" for visit in day.visits)
    raise NotUnderstood(f"{word} is not visited on {say_date(day.date)}; the visits are {there}.")


def find_supply(word: str, supplies: Iterable[Supply]) -> Supply:
    """A supply by its id or its name; a part of the name is enough where only one supply has it."""
    every = tuple(supplies)
    typed = word.casefold().strip()
    plain = typed.removesuffix("s")
    for each in every:
        if typed in (each.id.casefold(), each.name.casefold()) or plain in (each.id.casefold(), each.name.casefold()):
            return each
    within = [each for each in every if plain and (plain in each.name.casefold() or plain in each.id.casefold())]
    if len(within) == 1:
        return within[0]
    if within:
        raise NotUnderstood(f"{word} may be {join_words((each.name for each in within[:6]), 'or')}. Say which.")
    known = [name for each in every for name in (each.id, each.name)]
    raise NotUnderstood(f"There is no supply called {word}." + _meant(word, known, "trundle morning shows the names."))


def find_container(word: str, day: Day, plan: Plan) -> str:
    """The id of a container by its id or name; every kit and box of the plan is known, along today or not."""
    every = [each.id for each in day.containers]
    every += [*(box_of(each.grade) for each in plan.classes), *(each.id for each in plan.kits)]
    every += [folder_of(each.id) for each in plan.classes]
    names = {ident: name_of(plan, ident) for ident in every}
    typed = word.casefold().replace(" ", "-").removesuffix("-kit")
    for ident, name in names.items():
        spoken = name.casefold().replace(" ", "-").removesuffix("-kit")
        if typed in (ident.casefold().replace(" ", "-"), spoken):
            return ident
    known = [*names, *names.values()]
    there = f"The containers are {join_words(dict.fromkeys(each.name for each in day.containers))}."
    raise NotUnderstood(f"There is no container called {word}." + _meant(word, known, there))


def find_period(word: str, day: Day, plan: Plan) -> str:
    """A period of any bells by its name, or that of a visit of the day as "V3"."""
    visit = next((each for each in day.visits if each.name.casefold() == word.casefold()), None)
    if visit is not None:
        return visit.period
    periods = list(dict.fromkeys(period.name for bells in plan.school.bells for period in bells.periods))
    found = next((each for each in periods if each.casefold() == word.casefold()), None)
    if found is not None:
        return found
    there = f"The periods are {join_words(periods)}."
    raise NotUnderstood(f"There is no period {word} in the plan." + _meant(word, periods, there))


def find_place(word: str, plan: Plan) -> str:
    """ "store" or a room of the plan."""
    by_folded = {each.casefold(): each for each in (*plan.rooms, "store")}
    typed = word.casefold()
    for each in (typed, typed.removeprefix("room").strip(), typed.removeprefix("rm").strip()):
        if each in by_folded:
            return by_folded[each]
    raise NotUnderstood(
        f"There is no room {word} in the plan." + _meant(word, by_folded, "Write a room's number, or store.")
    )


def find_class(word: str, plan: Plan) -> str:
    """The id of a class of the plan."""
    classes = {each.id.casefold(): each.id for each in plan.classes}
    if word.casefold() in classes:
        return classes[word.casefold()]
    there = f"The classes are {join_words(classes.values())}."
    raise NotUnderstood(f"There is no class {word} in the plan." + _meant(word, classes.values(), there))


def find_cycle_day(word: str, plan: Plan) -> str:
    """A day of the rotation: of the cycle, or of the week by its name or the name's beginning."""
    rotation = plan.school.rotation
    days = rotation.days if rotation.kind == "cycle" else WEEKDAYS
    typed = word.casefold() if rotation.kind == "cycle" else word.casefold()[:3]
    found = next((each for each in days if each.casefold() == typed), None)
    if found is not None:
        return found
    there = f"The days are {join_words(days)}."
    raise NotUnderstood(f"There is no day {word} in the rotation." + _meant(word, days, there))


def find_bells(word: str, plan: Plan) -> str:
    """The id of a bell schedule; its beginning is enough where only one begins so."""
    named = [each.id for each in plan.school.bells]
    typed = word.casefold()
    exact = [each for each in named if each.casefold() == typed]
    begins = [each for each in named if each.casefold().startswith(typed)]
    if exact or len(begins) == 1:
        return (exact or begins)[0]
    there = f"There are {join_words(named)}."
    raise NotUnderstood(f"There are no bells called {word} in the plan." + _meant(word, named, there))


def _meant(word: str, known: Iterable[str], otherwise: str) -> str:
    near = nearest(word, known)
    return f" Did you mean {near}?" if near else f" {otherwise}"
