"""What was said for the route as a wish, in words: said, taken back, and holding again once that is undone."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from checklists.daybook.entries import AnyEntry, Changed
from checklists.lines.records import Day
from checklists.route.pins import Pin
from checklists.words import say_room

WISHES = ("stops", "rides", "leave_in")


def is_wish(change: Changed) -> bool:
    """Whether a change of the day says nothing but wishes for the route."""
    said = [name for name in change.__struct_fields__ if name != "at" and getattr(change, name) is not None]
    return bool(said) and all(name in WISHES for name in said)


def say_wishes(change: Changed, day: Day) -> Iterator[str]:
    """Each wish that a change of the day says or takes back."""
    for kind in WISHES:
        yield from (_say(kind, about, how, day) for about, how in (getattr(change, kind) or {}).items())


def _say(kind: str, about: str, how: str, day: Day) -> str:
    match kind:
        case "stops":
            return say_stop_pin(about, how, day)
        case "rides":
            return say_ride_pin(next((each.name for each in day.containers if each.id == about), about), how)
        case _:
            return say_room_pin(about, how)


def say_what_holds_again(undone: Iterable[AnyEntry], now: Iterable[Pin], day: Day) -> Iterator[str]:
    """ "Never by the store after V3 (P3) holds again": wishes that hold once these entries are taken back."""
    hold: dict[tuple[str, str], str] = {(pin.kind, pin.about): pin.how for pin in now}
    for entry in undone:
        if not isinstance(entry, Changed):
            continue
        for kind in WISHES:
            for about, how in (getattr(entry, kind) or {}).items():
                again = hold.get((kind, about))
                if again is not None and again != how:
                    said = _say(kind, about, again, day)
                    yield f"{said[:1].upper()}{said[1:]} holds again"


def say_stop_pin(period: str, how: str, day: Day) -> str:
    """A wish for the route, in words; what is neither "never" nor "always" takes one back."""
    visit = next((each for each in day.visits if each.period == period), None)
    after = f"{visit.name} ({period})" if visit is not None else period
    if how in ("never", "always"):
        return f"{how} by the store after {after}"
    return f"by the store after {after} where that is best"


def say_ride_pin(name: str, how: str) -> str:
    match how:
        case "always":
            return f"{name} always rides"
        case "helper":
            return f"a helper carries {name}"
        case _:
            return f"{name} rides where that is best"


def say_room_pin(room: str, how: str) -> str:
    return f"{'nothing is left' if how == 'never' else 'things may be left'} in {say_room(room)}"
