"""The cart sheet as a JSON object for scripts, in the same order as on paper."""

from __future__ import annotations

from checklists.pages.cart_sheet_records import CartSheet, Stop, VisitBlock
from checklists.pages.cart_sheet_words import say_taught
from checklists.pages.fields import Fields
from checklists.words import clock


def cart_sheet_as_json(sheet: CartSheet) -> Fields:
    """The page "sheet".

    ``school day bells leave_by ahead_by printed substitute why_no_visits visits stops behind``. A visit: ``number
    key class room start end students about tables guests taught parts own_part_waits to_decide packed_meanwhile from
    walk gap late along folders sink projector own at_tables trays clean_up_from counted missed``; ``taught`` is in
    words, ``parts`` a list of ``lesson part parts title``; ``from`` is a room or "store"; a container along is ``name
    sign stands_in stands_there by_helper``; a folder ``class number container`` (empty: on top); a thing at tables
    ``number name count tables``; trays ``number name sets``; counted ``numbers supply name out``; ``missed`` is in
    words, without saying who. A stop at the store: ``before_visit breaks since leave_by off on half_slots holds
    too_much minutes fetch by_hand mass_and_trips back ahead``; ``since`` is null in the morning, ``by_hand`` is as
    ``on``, ``ahead`` a list of ``names room minutes``, ``fetch`` of ``name room minutes``. ``behind`` is fetched after
    school: ``name room``.
    """
    return {
        "format": 1,
        "page": "sheet",
        "date": sheet.date.isoformat(),
        "school": sheet.school,
        "day": sheet.day_name,
        "bells": sheet.bells,
        "leave_by": None if sheet.leave_by is None else clock(sheet.leave_by),
        "ahead_by": None if sheet.ahead_by is None else clock(sheet.ahead_by),
        "printed": sheet.printed.isoformat(timespec="minutes"),
        "substitute": sheet.substitute,
        "why_no_visits": sheet.why_no_visits,
        "visits": [_visit_fields(each) for each in sheet.visits],
        "stops": [_stop_fields(each) for each in sheet.stops],
        "behind": [{"name": name, "room": room} for name, room in sheet.behind],
    }


def _visit_fields(block: VisitBlock) -> Fields:
    return {
        "number": block.number,
        "key": block.key,
        "class": block.class_id,
        "room": block.room,
        "start": clock(block.start),
        "end": clock(block.end),
        "students": block.students,
        "about": block.about,
        "tables": block.tables,
        "guests": [{"class": class_id, "count": count} for class_id, count in block.guests],
        "taught": say_taught(block),
        "parts": [
            {"lesson": each.lesson, "part": each.part, "parts": each.parts, "title": each.title}
            for each in block.taught
        ],
        "own_part_waits": block.own_part_waits,
        "to_decide": block.to_decide,
        "packed_meanwhile": block.packed_meanwhile,
        "from": block.from_room or "store",
        "walk": block.walk,
        "gap": block.gap,
        "late": block.late,
        "along": [
            {
                "name": each.name,
                "sign": each.sign,
                "stands_in": each.stands_in,
                "stands_there": each.stands_there,
                "by_helper": each.by_helper,
            }
            for each in block.along
        ],
        "folders": [
            {"class": each.class_id, "number": each.number, "container": each.container} for each in block.folders
        ],
        "sink": block.sink,
        "projector": block.projector,
        "own": list(block.own),
        "at_tables": [
            {"number": each.number, "name": each.name, "count": each.count, "tables": list(each.tables)}
            for each in block.at_tables
        ],
        "trays": [{"number": each.number, "name": each.name, "sets": each.sets} for each in block.trays],
        "clean_up_from": clock(block.clean_up_from),
        "counted": [
            {"numbers": list(each.numbers), "supply": each.supply, "name": each.name, "out": each.out}
            for each in block.counted
        ],
        "missed": list(block.missed),
    }


def _stop_fields(stop: Stop) -> Fields:
    return {
        "before_visit": stop.before_visit,
        "breaks": list(stop.breaks),
        "since": None if stop.since is None else clock(stop.since),
        "leave_by": clock(stop.leave_by),
        "off": list(stop.off),
        "on": [{"name": each.name, "stands_in": each.stands_in} for each in stop.on],
        "half_slots": stop.half_slots,
        "holds": stop.holds,
        "too_much": stop.too_much,
        "minutes": stop.minutes,
        "fetch": [{"name": name, "room": room, "minutes": minutes} for name, room, minutes in stop.fetch],
        "by_hand": [{"name": each.name, "stands_in": each.stands_in} for each in stop.by_hand],
        "mass_and_trips": stop.mass_and_trips,
        "back": list(stop.back),
        "ahead": [{"names": list(each.names), "room": each.room, "minutes": each.minutes} for each in stop.ahead],
    }
