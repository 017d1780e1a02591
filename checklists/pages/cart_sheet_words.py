"""The words of the cart sheet, the same in plain text and in HTML."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from msgspec import Struct, structs

from checklists.pages.cart_sheet_records import Along, CartSheet, Counted, FolderAlong, Stop, TableThing, VisitBlock
from checklists.words import clock, join_words, minute_of_day, plural, say_date, say_number, say_room

OUTCOMES = ("done", "done but ___", "half", "not taught", "on to part ___")
"""To be ticked after a visit; the first four are the usual ones."""
NOTED = ("absent", "low", "left in room", "note")
"""What she writes beside it: class-list numbers of who was absent, what runs low, what stayed in the room."""
EMERGENCY = (
    ("Fire drill", "leave the cart, count later."),
    ("Missing sharp", "the class stays seated, tell the office."),
)
LOCAL_RULES = "Local rules decide."


class Fact(Struct, frozen=True):
    """One thing the sheet says of a visit. ``rank`` 0 is never cut; of the others the higher is cut first."""

    label: str
    text: str
    rank: int = 0


def say_day(sheet: CartSheet) -> str:
    """ "Mon 5 Oct, day A, regular bells"."""
    day = f", day {sheet.day_name}" if sheet.is_cycle and sheet.day_name else ""
    return f"{say_date(sheet.date)}{day}" + (f", {sheet.bells} bells" if sheet.bells else "")


def say_printed(sheet: CartSheet) -> str:
    at = sheet.printed
    same_day = "" if at.date() == sheet.date else f"{say_date(at.date())} "
    return f"printed {same_day}{clock(minute_of_day(at))}"


def say_leave(sheet: CartSheet) -> str:
    if sheet.leave_by is None:
        return ""
    ahead = "" if sheet.ahead_by is None else f"Leave ahead by {clock(sheet.ahead_by)}. "
    return f"{ahead}Leave the store by {clock(sheet.leave_by)}"


def say_visit(block: VisitBlock) -> str:
    """ "V3  9:35-10:20  Room 12  3-B"."""
    return f"V{block.number}  {clock(block.start)}-{clock(block.end)}  {say_room(block.room)}  {block.class_id}"


def say_children(block: VisitBlock) -> str:
    return f"{'about ' if block.about else ''}{plural(block.students, 'child')}, {plural(block.tables, 'table')}"


def say_clean_up(block: VisitBlock) -> str:
    return f"clean up from {clock(block.clean_up_from)}"


def say_taught(block: VisitBlock, title: str | None = None) -> str:
    """The lesson and its part; all that it may be where that is not known. ``title`` is the part's, shortened."""
    if not block.taught:
        return "no lesson is placed for it"
    if len(block.taught) == 1:
        one = block.taught[0]
        waits = "; its own part waits" if block.own_part_waits else ""
        title = one.title if title is None else title
        return f"{one.lesson}, part {one.part} of {one.parts}{f': {title}' if title else ''}{waits}"
    if len({each.lesson for each in block.taught}) == 1:
        one = block.taught[0]
        return f"{one.lesson}, part {join_words((str(each.part) for each in block.taught), 'or')} of {one.parts}"
    return join_words((f"{each.lesson}, part {each.part}" for each in block.taught), "or")


def say_ticks(block: VisitBlock) -> tuple[str, ...]:
    """What is ticked after the visit; which part it was, where that may be one of several."""
    one_lesson = len({each.lesson for each in block.taught}) == 1
    which = [f"part {each.part}" if one_lesson else f"{each.lesson} {each.part}" for each in block.taught]
    return (*(which if len(which) > 1 else ()), *OUTCOMES)


def say_way(block: VisitBlock) -> str:
    place = say_room(block.from_room) if block.from_room else "the store"
    gap = "" if block.gap is None else f", gap {block.gap}"
    late = f", {block.late} LATE" if block.late else ""
    return f"from {place}, {block.walk} min{gap}{late}"


def facts_of_block(block: VisitBlock) -> Iterator[Fact]:
    """What stands under the heading of a visit, the most needed first. Adapted things that are counted stand there."""
    if block.to_decide:
        meanwhile = "Packed meanwhile as planned" if block.packed_meanwhile else "Nothing is packed for it until then"
        yield Fact("TO DECIDE", f"{block.to_decide} {meanwhile}")
    if len(block.taught) > 1:
        yield Fact("NOT KNOWN", "what was taught last time; it is packed for either")
    if block.guests:
        yield Fact("AMONG THEM", join_words(f"{count} of {class_id}" for class_id, count in block.guests))
    if block.along:
        yield Fact("ALONG", join_words(map(say_along, block.along)))
    for each in block.folders:
        yield Fact(*_say_folder(each))
    counted = {number for each in block.counted for number in each.numbers}
    at_tables = [each for each in block.at_tables if each.number not in counted]
    if at_tables:
        yield Fact("AT TABLES", "; ".join(map(_say_table_thing, at_tables)))
    if block.missed:
        yield Fact("MISSED", "; ".join(block.missed))
    yield Fact("ROOM", _say_room(block), 1)
    if block.own:
        yield Fact("THEIR OWN", join_words(block.own), 1)
    for trays in block.trays:
        yield Fact("TRAYS", f"{trays.name}: {trays.sets}", 2)


def say_along(along: Along) -> str:
    place = f"in {say_room(along.stands_in)}: fetch it" if along.stands_in else ""
    if along.stands_there:
        place = "stands there"
    elif along.by_helper:
        place = "a helper brings it"
    beside = ", ".join(each for each in (along.sign, place) if each)
    return f"{along.name} ({beside})" if beside else along.name


def _say_folder(folder: FolderAlong) -> tuple[str, str]:
    number = f"{folder.class_id} #{folder.number}"
    return ("FOLDER", f"{number} in {folder.container}") if folder.container else ("FOLDER ON TOP", number)


def _say_table_thing(thing: TableThing) -> str:
    return f"{thing.count} {thing.name} #{thing.number}{_say_tables(thing.tables)}"


def say_counted(counted: Counted, block: VisitBlock) -> str:
    """What is counted, with the numbers of its lines, and at which tables where it is adapted."""
    tables = {table for each in block.at_tables if each.number in counted.numbers for table in each.tables}
    numbers = " ".join(f"#{number}" for number in counted.numbers)
    return f"{counted.name} {numbers}{_say_tables(sorted(tables))}"


def _say_tables(tables: Sequence[int]) -> str:
    if not tables:
        return ""
    return f", {'table' if len(tables) == 1 else 'tables'} {join_words(map(str, tables))}"


def _say_room(block: VisitBlock) -> str:
    """The sink always, a projector where somebody has said whether there is one."""
    said = [_say_known(block.sink, "sink")]
    return ", ".join(said if block.projector is None else [*said, _say_known(block.projector, "projector")])


def _say_known(known: bool | None, what: str) -> str:
    return {True: what, False: f"no {what}", None: f"{what} not known"}[known]


def say_stop(stop: Stop) -> tuple[tuple[str, str], ...]:
    """A time at the store as labels and texts: when, what comes off the cart, what comes on."""
    on = join_words(say_along(structs.replace(each, sign="")) for each in stop.on)
    found = [("LOAD", on or "nothing beside what stands on the cart")] if on or not stop.mass_and_trips else []
    if stop.since is not None:
        found = [("BY THE STORE", f"{stop.minutes} min")]
        if stop.breaks:
            found = [("STORE", f"{clock(stop.since)} to {clock(stop.leave_by)} ({join_words(stop.breaks)})")]
        found += [(label, what) for label, what in (("OFF", join_words(stop.off)), ("ON", on)) if what]
        if len(found) == 1 and not stop.mass_and_trips and not stop.back:
            found.append(("", "nothing has to change on the cart"))
    if stop.fetch:
        found.append(("FETCH", say_fetch(stop)))
    for each in stop.ahead:
        names = join_words(each.names)
        found.append(("LEAVE AHEAD", f"{names} in {say_room(each.room)}, {each.minutes} min"))
    if stop.back:
        found.append(("BRING BACK", join_words(stop.back)))
    if stop.mass_and_trips:
        carried = join_words(say_along(structs.replace(each, sign="")) for each in stop.by_hand)
        found.append(("BY HAND", f"{carried or 'what stands on the cart'}, {stop.mass_and_trips}"))
    if stop.too_much:
        boxes, holds = say_number(stop.half_slots / 2), say_number(stop.holds / 2)
        found.append(("TOO MUCH", f"{boxes} boxes' worth (a kit is half a box), the cart takes {holds}: what waits?"))
    return tuple(found)


def say_fetch(stop: Stop) -> str:
    """ "Box 1 from Room 9, 4 min": what comes along from the same room takes no further minutes."""
    return join_words(
        f"{name} from {say_room(room)}" + (f", {minutes} min" if minutes else "") for name, room, minutes in stop.fetch
    )


def say_behind(sheet: CartSheet) -> str:
    """ "fetch Box 1 from Room 9"; empty where nothing was left behind."""
    return f"fetch {join_words(f'{name} from {say_room(room)}' for name, room in sheet.behind)}" if sheet.behind else ""
