"""What uses a thing of the plan, in a teacher's words: asked before it is changed, renamed or taken out.

Her own rules count too. What was said on a day is not in it: the daybook keeps it whatever becomes of the plan.
"""

from __future__ import annotations

from msgspec import Struct

from checklists.lines.containers import box_of, name_of
from checklists.plan import naming
from checklists.plan.naming import Named, Path
from checklists.plan.plan_files import PlanFiles, plan_of
from checklists.plan.records import (
    Box,
    Building,
    Classes,
    Item,
    Kit,
    Lesson,
    Plan,
    RoutePins,
    School,
    SchoolClass,
    Supply,
    Walk,
)
from checklists.rules.records import Rule, RuleFile, SwitchedOff
from checklists.words import join_words, plural, say_number, say_room

RULES_FILE = "rules.toml"
_PRIVATE = ("SchoolClass.avoid", "Need.need")


class Use(Struct, frozen=True):
    """One place where a thing is used."""

    said: str
    """ "Tide Pools, part 2: 1 for each student"."""
    file: str
    path: Path
    """Within the file: ("parts", 1, "items", 0, "supply")."""
    by_kind: str
    """Of which kind the thing is that uses it: "lesson", "kit", "class", "supply", "room", "rule", "box", "school"."""
    by: str
    """Its id; of a box the grade, of the timetable, the cart and the like what they are called."""
    is_private: bool = False
    """It tells of a child: ``said`` does not say of which class, and ``path`` and ``by`` are for no page."""


def uses_of(files: PlanFiles, own_rules: RuleFile, kind: str, name: str) -> tuple[Use, ...]:
    """Everything that names the thing, in the order of the files.

    ``kind`` is one of those in ``naming``: "class", "room", "period", "timetable day", "bells", "supply", "kit",
    "lesson", "grade", "need", "tag", "mark".
    """
    plan, named = _names_of(files, own_rules)
    return tuple(_use(each, kind, plan) for each in named if each.is_of(kind, name))


_newest: list[tuple[PlanFiles, RuleFile, Plan, tuple[Named, ...]]] = []
"""The names of the plan asked about last: the records are frozen, and much is asked of one plan in a row."""


def _names_of(files: PlanFiles, own_rules: RuleFile) -> tuple[Plan, tuple[Named, ...]]:
    for known_files, known_rules, plan, named in _newest:
        if known_files is files and known_rules is own_rules:
            return plan, named
    named = (*naming.names_in(files), *naming.names_in_record(RULES_FILE, own_rules))
    _newest[:] = [(files, own_rules, plan_of(files, ()), named)]
    return _newest[0][2], named


def say_uses(uses: tuple[Use, ...], most: int = 4) -> str:
    """The first of them in one sentence: "Tide Pools, part 2: 1 for each student; Box 3 holds 12; and 3 more"."""
    said = [each.said for each in uses[:most]]
    return "; ".join([*said, f"and {len(uses) - most} more"] if len(uses) > most else said)


def _use(named: Named, kind: str, plan: Plan) -> Use:
    said, by_kind, by = _said(named, kind, plan)
    if any(getattr(each, "archived", False) for each in named.holders):
        said = f"{said} (archived)"
    return Use(said, named.file, named.path, by_kind, by, is_private=named.field in _PRIVATE)


def _said(named: Named, kind: str, plan: Plan) -> tuple[str, str, str]:
    """In words, and what uses it: of which kind, and its id."""
    match named.holders[-1]:
        case Item() as item:
            return _of_item(named, item, plan)
        case SchoolClass() as each:
            return _of_class(named, each), "class", each.id
        case Classes() as classes:
            return _of_classes(named, classes, kind)
        case Box() as box:
            called = name_of(plan, box_of(box.grade))
            return (
                f"{called} holds {box.standing[named.name]}" if named.field == "Box.standing" else called,
                "box",
                box.grade,
            )
        case Kit() as kit:
            return f"{name_of(plan, kit.id)} holds {kit.holds[named.name]}", "kit", kit.id
        case Supply() as supply:
            said = (
                f"{supply.name}: it is used instead"
                if named.field == "Supply.instead"
                else f"{supply.name} is so marked"
            )
            return said, "supply", supply.id
        case Lesson() as lesson:
            return _of_lesson(named, lesson), "lesson", lesson.id
        case Walk() as walk:
            return f"the walk from {join_words(map(_place, walk.between), 'to')}", "school", "walks"
        case Building() as building:
            return f"building {building.name}", "school", "buildings"
        case RoutePins() as pins:
            return f"your wish for the route: {_wish(named, pins)}", "school", "route"
        case Rule() | SwitchedOff():
            return _of_rule(named)
        case _:
            return _elsewhere(named, plan)


def _of_item(named: Named, item: Item, plan: Plan) -> tuple[str, str, str]:
    lesson = next(each for each in named.holders if isinstance(each, Lesson))
    match named.path:
        case ("parts", int() as part, "items", *_):
            where = f"{lesson.title}, part {part + 1}"
        case ("parts", int() as part, *_):
            where = f"{lesson.title}, part {part + 1}, short version"
        case _:
            where = f"{lesson.title}, for those who finish early"
    if named.field == "Item.into":
        said = f"{where}: {plan.name_of_supply(item.supply)} is in it"
    elif named.field == "Item.not_for":
        said = f"{where}: taught without {plan.name_of_supply(item.supply)}"
    else:
        said = f"{where}: {_quantity(item)}"
    return said, "lesson", lesson.id


def _quantity(item: Item) -> str:
    if item.demo:
        return f"{say_number(item.count)} for your demonstration"
    whom = {
        "student": "each student",
        "pair": "each pair",
        "table": "each table",
        "class": "the class",
        "lesson": "all classes of a day",
    }
    return f"{say_number(item.count)} for {whom[item.per]}"


def _of_class(named: Named, each: SchoolClass) -> str:
    said = {
        "SchoolClass.room": f"class {each.id} is taught there",
        "SchoolClass.grade": f"class {each.id}",
        "SchoolClass.avoid": "a class has a private note of it",
        "SchoolClass.has": f"class {each.id} has its own",
    }
    return said[named.field]


def _of_classes(named: Named, classes: Classes, kind: str) -> tuple[str, str, str]:
    if named.field == "Classes.teaching":
        grade, *place = (str(each) for each in named.path[1:])
        count = len(classes.teaching[grade])
        if not place:
            return f"grade {grade} is taught {plural(count, 'lesson')}", "grade", grade
        return f"grade {grade} is taught it as number {int(place[0]) + 1} of {count}", "grade", grade
    day, *period = (str(each) for each in named.path[1:])
    if not period:
        return f"timetable {day}: {plural(len(classes.timetable[day]), 'period')}", "timetable day", day
    who = f": {classes.timetable[day][period[0]]}" if kind == naming.PERIOD else ""
    return f"timetable {day} {period[0]}{who}", "timetable day", day


def _of_lesson(named: Named, lesson: Lesson) -> str:
    said = {
        "Lesson.grades": f"{lesson.title} is for it",
        "Lesson.kits": f"{lesson.title} goes with it",
        "Lesson.dry_version": f"taught in place of {lesson.title} where no water or mess can be",
    }
    return said[named.field]


def _wish(named: Named, pins: RoutePins) -> str:
    if named.field == "RoutePins.stops":
        return f"after {named.name} {pins.stops[named.name]} by the store"
    if named.field == "RoutePins.rides":
        return "a helper carries it" if pins.rides[named.name] == "helper" else "it always rides"
    return "nothing is left there"


def _of_rule(named: Named) -> tuple[str, str, str]:
    own = next((each for each in named.holders if isinstance(each, Rule)), None)
    if own is not None:
        return f'your rule "{own.title}"', "rule", own.id
    off = next(each for each in named.holders if isinstance(each, SwitchedOff))
    return f'the rule "{_title_of(off.rule, named)}" is switched off for it', "rule", off.rule


def _title_of(rule: str, named: Named) -> str:
    from checklists.rules.read import read_builtin_rules

    own = named.holders[0].rules if isinstance(named.holders[0], RuleFile) else ()
    return next((each.title for each in (*own, *read_builtin_rules()) if each.id == rule), rule)


def _elsewhere(named: Named, plan: Plan) -> tuple[str, str, str]:
    match named.holders:
        case (School() as school, _) if named.field == "Cart.standing":
            return f"{school.cart.standing[named.name]} always stand on the cart", "school", "cart"
        case (School(), _) if named.field == "Habits.filler":
            return "taught where a class has no lesson of its own", "school", "habits"
        case (_, SchoolClass() as each, _):
            return "a class has a private note of it", "class", each.id
        case (Lesson() as lesson, _):
            return f"{lesson.title}, part {int(named.path[1]) + 1}", "lesson", lesson.id
        case _:
            return _of_rule(named)


def _place(place: str) -> str:
    return "the store" if place == "store" else say_room(place)
