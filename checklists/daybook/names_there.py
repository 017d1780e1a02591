"""The names of the daybook: days that are told keep the names they were told by, whatever things are called since.

A class that was renamed is read by the name it has now and written by the one it has in the daybook, so that what was
told is never rewritten, a rename can be taken back at any time, and another class of the old name inherits nothing.
Nothing here is looked at while nothing was renamed.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Mapping
from typing import Final, TypeVar

from msgspec import Struct

from checklists.lines.containers import CATCH_UP_KIT, FOLDER
from checklists.plan.naming import BELLS, CLASS, CONTAINER, DAY, PERIOD, ROOM, Shape, with_names
from checklists.plan.records import Classes, Plan
from checklists.plan.renaming import RENAMED, names_there
from checklists.words import say_room

Of = TypeVar("Of", bound=Struct)
VISIT, KEY, WORDS = "visit", "key", "words"

NAMES: Final[Mapping[str, Shape]] = {
    "Packed.line": KEY,
    "CameUpShort.line": KEY,
    "NotNeeded.line": KEY,
    "Ticked.matter": KEY,
    "FoundInContainer.container": CONTAINER,
    "TakenOut.container": CONTAINER,
    "Reported.visit": VISIT,
    "CountedSharps.visit": VISIT,
    "CountLater.visit": VISIT,
    "Lent.place": ROOM,
    "Lent.container": CONTAINER,
    "GivenBack.container": CONTAINER,
    "HandedOut.visit": VISIT,
    "PutRight.container": CONTAINER,
    "Stands.container": CONTAINER,
    "Stands.place": ROOM,
    "Stands.period": PERIOD,
    "LetGo.matter": KEY,
    "CarriedOver.matter": KEY,
    "ReportedMissing.case": KEY,
    "ClosedCase.case": KEY,
    "LeftStore.open_lines": (KEY,),
    "Guests.of": CLASS,
    "Guests.join": CLASS,
    "Testing.periods": (PERIOD,),
    "Changed.day": DAY,
    "Changed.bells": BELLS,
    "Changed.away": (CLASS,),
    "Changed.students": {CLASS: None},
    "Changed.adults": {CLASS: None},
    "Changed.lessons": {VISIT: None},
    "Changed.rooms": {VISIT: ROOM},
    "Changed.parts": {VISIT: None},
    "Changed.joined": {CLASS: CLASS},
    "Changed.split": {VISIT: None},
    "Changed.water_off": (ROOM,),
    "Changed.left_ahead": {VISIT: None},
    "Changed.longer_ways": {ROOM: None},
    "Changed.stops": {PERIOD: None},
    "Changed.rides": {CONTAINER: None},
    "Changed.leave_in": {ROOM: None},
    "KeptAhead.container": CONTAINER,
    "KeptAhead.visit": VISIT,
    "KeptAhead.room": ROOM,
    "KeptAhead.after": VISIT,
    "KeptLeg.visits": (VISIT,),
    "KeptLeg.rides": (CONTAINER,),
    "KeptLeg.kept": (CONTAINER,),
    "RouteKept.begun": (VISIT,),
    "ClassPlace.class_id": CLASS,
    "Joined.class_id": CLASS,
    "Sized.class_id": CLASS,
    "Left.class_id": CLASS,
    "Excused.class_id": CLASS,
    "Broken.class_id": CLASS,
    "WorkAway.class_id": CLASS,
    "Place.where": ROOM,
    "Place.period": PERIOD,
    "Unsure.visit": VISIT,
    "Carried.key": KEY,
    "Carried.what": WORDS,
    "Carried.container": CONTAINER,
    "Carried.for_class": CLASS,
    "Carried.packed": {KEY: None},
    "Case.key": KEY,
    "Case.room": ROOM,
    "Case.period": PERIOD,
    "Case.school_class": CLASS,
    "Loan.place": ROOM,
    "Loan.container": CONTAINER,
    "TestedDays.periods": (PERIOD,),
    "State.contents": {CONTAINER: {CONTAINER: None}},
    "State.places": {CONTAINER: None},
    "State.at_store": {CONTAINER: None},
    "State.progress": {CLASS: None},
    "State.unsure": {CLASS: None},
    "State.owed": {CLASS: None},
    "State.unfinished": {CLASS: None},
    "State.work_away": {CLASS: None},
    "State.prepared": (KEY,),
    "State.cautioned": (KEY,),
    "State.announced": {"": DAY},
    "State.standing_seen": {CONTAINER: None},
    "Timetable.day": DAY,
    "Timetable.periods": {PERIOD: CLASS},
}
"""Field of an entry or of a state -> names of which kind stand in it; ``plan.naming`` has the shapes."""

_OF_A_CLASS = ("prep", "caution", "new child", "gone", "hanging", "catch-up", "missed much", "size")
"""How keys begin that go on with a class."""
_OF_A_VISIT = (
    *("check", "locked", "reached", "missed", "handed out", "count", "case", "question", "more"),
    *("decide", "fit", "by hand", "cart"),
)
"""How keys begin that go on with a visit, some with a date before it."""
_DATE = re.compile(r"\d{4}-\d\d-\d\d")
_BEFORE_A_CLASS = ("of ", "for ", "in ", "left ", "class ", "older ")
"""What stands before a class in the sentences that are kept."""


class NamesThere:
    """What each thing is called now and in the daybook: from one to the other and back."""

    def __init__(self, plan: Plan) -> None:
        classes = Classes(classes=plan.every_class, timetable=plan.timetable)
        self._there = {kind: names_there(plan.school, classes, kind) for kind in RENAMED}
        self._now = {kind: {there: now for now, there in known.items()} for kind, known in self._there.items()}

    def __eq__(self, other: object) -> bool:
        return isinstance(other, NamesThere) and self._there == other._there

    def __hash__(self) -> int:
        return id(self)

    def as_now(self, record: Of) -> Of:
        """What was read from the daybook, by the names of now."""
        return _named(record, self._now)

    def as_there(self, record: Of) -> Of:
        """The same by the names of the daybook, as it is written."""
        return _named(record, self._there)


def _named(record: Of, names: Mapping[str, Mapping[str, str]]) -> Of:
    of_class, of_period = names[CLASS], names[PERIOD]
    in_words = _in_words(names)

    def container(name: str) -> str:
        for begins in (FOLDER, CATCH_UP_KIT):
            if name.startswith(begins):
                class_ = name.removeprefix(begins)
                return begins + of_class.get(class_, class_)
        return name

    def visit(name: str) -> str:
        """ "P1 3-B"; the visits of coming days have their date before it."""
        words = name.split(" ")
        ways = [(" ".join(words[:n]), " ".join(words[n:])) for n in range(1, len(words))]
        known = [way for way in ways if way[0] in of_period and way[1] in of_class]
        half_known = [way for way in ways if way[0] in of_period or way[1] in of_class]
        for period, class_ in (*known, *half_known)[:1]:
            return f"{of_period.get(period, period)} {of_class.get(class_, class_)}"
        return name

    def key(name: str) -> str:
        word, *rest = name.split("/")
        at = 1 if rest and _DATE.fullmatch(rest[0]) else 0
        if word in _OF_A_CLASS and rest and not (word == "prep" and rest[0] == "car" and _DATE.fullmatch(rest[1])):
            rest[0] = of_class.get(rest[0], rest[0])
            if rest[2:3] == ["cart"]:
                rest[3] = visit(rest[3])
            elif rest[2:3] == ["top tray"]:
                rest[3] = of_period.get(rest[3], rest[3])
        elif (word in _OF_A_VISIT or _DATE.fullmatch(word)) and rest[at:]:
            rest[at] = visit(rest[at])
        return "/".join(map(container, (word, *rest)))

    how: dict[str, Callable[[str], str]] = {VISIT: visit, KEY: key, CONTAINER: container, WORDS: in_words}

    def name_for(kind: str, name: str) -> str:
        return how[kind](name) if kind in how else names.get(kind, {}).get(name, name)

    return with_names(record, NAMES, name_for)


def _in_words(names: Mapping[str, Mapping[str, str]]) -> Callable[[str], str]:
    """Sentences that were made when something was carried over have the names in them as well."""
    classes = {name: now for name, now in names[CLASS].items() if name != now}
    rooms = {say_room(name): say_room(now) for name, now in names[ROOM].items() if name != now}
    before = "|".join(f"(?<={each})" for each in _BEFORE_A_CLASS)
    patterns = [f"(?:{before})(?:{_any_of(classes)})"] if classes else []
    patterns += [f"(?<!\\w)(?:{_any_of(rooms)})"] if rooms else []
    if not patterns:
        return lambda text: text
    pattern = re.compile(f"(?:{'|'.join(patterns)})(?![\\w-])")
    both = {**classes, **rooms}
    return lambda text: pattern.sub(lambda found: both[found[0]], text)


def _any_of(words: Iterable[str]) -> str:
    return "|".join(re.escape(each) for each in sorted(words, key=len, reverse=True))
