"""What an entry said, in words: for messages, and to say what was undone."""

from __future__ import annotations

from checklists.daybook import entries as book
from checklists.daybook.day_end import say_absent, say_outcome
from checklists.daybook.loans import LOAN
from checklists.daybook.marks import ASK, FETCH, ORDER
from checklists.daybook.said_of_cases import say_borrower, say_closed
from checklists.daybook.said_of_children import say_of_children
from checklists.daybook.said_wishes import is_wish, say_wishes
from checklists.daybook.state import Loan
from checklists.lines.records import Day
from checklists.plan.records import Plan
from checklists.walks import STORE, say_way
from checklists.words import join_words, plural, say_date, say_room


def say_entry(entry: book.AnyEntry, day: Day, plan: Plan | None = None) -> str:
    """ "packed 54 yarn balls, Box 3". Names come from the day's list or the plan; what neither has keeps its key."""
    match entry:
        case book.Packed():
            return _packed(entry, day)
        case book.CameUpShort():
            return f"{_line(entry.line, day)} short, has {entry.count}: {entry.remedy}"
        case book.NotNeeded():
            return f"{_line(entry.line, day)} not needed: {entry.reason}"
        case book.Ticked(matter="places"):
            return "everything back at the store"
        case book.Ticked(matter="places/some away"):
            return "something stayed in a room"
        case book.Ticked() if entry.matter.startswith(LOAN):
            return "still lent"
        case book.Ticked() if entry.matter.startswith("case/"):
            return "missing thing: still missing"
        case book.Ticked():
            return f"{_matter(entry.matter, day)}: done"
        case book.FoundLevel():
            return f"{_supply(entry.supply, day, plan)}: {entry.level}"
        case book.Ordered():
            expected = f", expected {say_date(entry.expected)}" if entry.expected is not None else ""
            return f"{_supply(entry.supply, day, plan)}: {_packs(entry, plan)} ordered{expected}"
        case book.Delivered():
            of = f" in place of {_supply(entry.of, day, plan)}" if entry.of else ""
            return f"{_supply(entry.supply, day, plan)}: {_packs(entry, plan)} came{of}"
        case book.CountedStock():
            return f"{_supply(entry.supply, day, plan)}: {entry.count} counted"
        case book.FoundInContainer():
            return f"{_container(entry.container, day)}: {entry.count} {_supply(entry.supply, day, plan)} in it"
        case book.TakenOut():
            return f"{_container(entry.container, day)}: {entry.count} {_supply(entry.supply, day, plan)} taken out"
        case book.Reported():
            said = ", ".join(each for each in (say_outcome(entry), say_absent(entry)) if each)
            return f"{_visit(entry.visit, day)}: {said or 'asked again'}"
        case book.CountedSharps():
            return f"{_visit(entry.visit, day)}: {entry.back} of {entry.out} {_supply(entry.supply, day, plan)} back"
        case book.CountLater():
            return f"{_visit(entry.visit, day)}: {_supply(entry.supply, day, plan)} to be counted later"
        case book.Lent():
            loan = Loan("", entry.supply, entry.count, day.date, "", entry.to, entry.place)
            return f"{entry.count} {_supply(entry.supply, day, plan)} lent to {say_borrower(loan)}"
        case book.GivenBack():
            return f"{entry.count} {_supply(entry.supply, day, plan)} back that were lent"
        case book.HandedOut():
            return f"{_visit(entry.visit, day)}: catch-up kit {'handed out' if entry.given else 'not handed out'}"
        case book.PutRight():
            return f"{_container(entry.container, day)}: {'put right' if entry.done else 'to be put right'}"
        case book.Stands():
            place = "at the store" if entry.place == STORE else f"in {say_room(entry.place)}"
            return f"{_container(entry.container, day)} {place}"
        case book.LetGo() if entry.matter.startswith(ORDER):
            return f"{_supply(entry.matter.removeprefix(ORDER), day, plan)}: not waited for any more"
        case book.LetGo() if entry.matter.startswith(ASK):
            about, _, what = entry.matter.removeprefix(ASK).rpartition("/")
            return f"{about}, {what.replace('_', ' ')}: not asked again that day"
        case book.LetGo():
            return f"{_matter(entry.matter, day)}: let go"
        case book.CarriedOver():
            to = f", to {say_date(entry.to)}" if entry.to is not None else ""
            return f"{_matter(entry.matter, day)}: carried over{to}"
        case book.ReportedMissing():
            return f"missing thing reported to {entry.to_whom}" + (f", {entry.when}" if entry.when else "")
        case book.ClosedCase():
            return _closed(entry)
        case book.LeftStore():
            return "left the store"
        case book.Testing():
            when = (
                say_date(entry.first)
                if entry.first == entry.last
                else f"{say_date(entry.first)} to {say_date(entry.last)}"
            )
            at = f", {join_words(entry.periods)}" if entry.periods else ""
            if not entry.grades:
                return f"no testing {when}"
            return f"testing {when}: grade {join_words(entry.grades)}{at}"
        case book.RouteKept():
            return "the best route anew" if entry.anew else "the route as it was so far"
        case book.Changed():
            return f"{'wish for the route' if is_wish(entry) else 'the day changed'}: {say_change(entry, day, plan)}"
        case book.Sized():
            return f"{entry.class_id}: {plural(entry.students, 'child')} from now on"
        case book.Began():
            return "the daybook begins"
        case book.ClassPlace():
            title = plan.title_of_lesson(entry.lesson) if plan is not None else entry.lesson
            return f"{entry.class_id} is at {title}, part {entry.part}"
        case book.Joined() | book.Left() | book.Excused() | book.Broken() | book.WorkAway():
            return say_of_children(entry)


def _closed(entry: book.ClosedCase) -> str:
    said = say_closed(entry)
    if entry.count is not None:
        return f"{entry.count} of the missing things {said}"
    return f"missing thing: {said}" if entry.lent or not entry.found else f"missing thing {said}"


def say_change(change: book.Changed, day: Day, plan: Plan | None = None) -> str:
    """What is different about a day: "no school", "day C, 3-B and 3-K away"."""
    said: list[str] = []
    if change.no_school is not None:
        said.append("no school" if change.no_school else "school takes place")
    if change.day:
        said.append(f"day {change.day}")
    if change.bells:
        said.append(f"bells {change.bells}")
    if change.substitute is not None:
        said.append("a substitute" if change.substitute else "no substitute")
    if change.away is not None:
        said.append(f"{join_words(change.away)} away" if change.away else "no class away")
    for guests in change.guests or ():
        said.append(f"{guests.count} of {guests.of} with {guests.join}")
    said += [f"{count} come from {class_id}" for class_id, count in (change.students or {}).items()]
    said += [f"{plural(count, 'adult')} in {class_id}" for class_id, count in (change.adults or {}).items()]
    for visit, lesson in (change.lessons or {}).items():
        title = plan.title_of_lesson(lesson) if plan is not None else lesson
        said.append(f"{_visit(visit, day)}: {title or 'its own part'}")
    if change.fill is not None:
        said.append("filled for the day" if change.fill == "day" else f"filled for the {change.fill}")
    if change.no_mess is not None:
        said.append("a day without mess" if change.no_mess else "mess is allowed")
    for visit, room in (change.rooms or {}).items():
        said.append(f"{_visit(visit, day)} in {say_room(room) if room else 'its own room'}")
    for visit, part in (change.parts or {}).items():
        said.append(f"{_visit(visit, day)}: {f'part {part}' if part else 'its next part'}")
    said += [f"{each} {f'with {host}' if host else 'alone'}" for each, host in (change.joined or {}).items()]
    for visit, half in (change.split or {}).items():
        said.append(f"{_visit(visit, day)}: {'half' if half else 'all'} of its part")
    for each in change.interruptions or ():
        said.append(f"{each.why or 'no class'} {each.start}-{each.end}")
    if change.interruptions == ():
        said.append("no interruption")
    if change.water_off is not None:
        rooms = join_words(each if each == book.EVERYWHERE else f"in {say_room(each)}" for each in change.water_off)
        said.append(f"no water {rooms}" if rooms else "water again")
    for visit, ahead in (change.left_ahead or {}).items():
        said.append(f"{_visit(visit, day)}: {'left in the room ahead' if ahead else 'carried when it is time'}")
    if change.elevator_out is not None:
        said.append("elevator out" if change.elevator_out else "elevator works")
    if change.no_cart is not None:
        said.append("no cart" if change.no_cart else "the cart is there")
    for place, minutes in (change.longer_ways or {}).items():
        way = say_way(plan, place) if plan is not None else place
        said.append(f"{minutes} min more to and from {way}" if minutes else f"the usual way to {way}")
    if change.planning_lost is not None:
        said.append("no planning period" if change.planning_lost else "planning period as usual")
    if change.store_opens is not None:
        said.append(f"the store opens at {change.store_opens}" if change.store_opens else "the store is open")
    said += say_wishes(change, day)
    return ", ".join(said) or "as planned"


def _packed(entry: book.Packed, day: Day) -> str:
    line = next((each for each in day.lines if each.key == entry.line), None)
    name = _line(entry.line, day)
    if line is not None and entry.count > line.need:
        return f"enough {name}: {entry.count} of {line.need}"
    if line is not None and entry.count < line.need:
        return f"packed {entry.count} of {line.need} {name}"
    return f"packed {entry.count} {name}"


def _line(key: str, day: Day) -> str:
    line = next((each for each in day.lines if each.key == key), None)
    if line is None:
        return key
    kit = f", catch-up kit of {line.catch_up_for}" if line.catch_up_for else ""
    return f"{line.name}, {_container(line.container, day)}{kit}"


def _container(container: str, day: Day) -> str:
    return next((each.name for each in day.containers if each.id == container), container)


def _supply(supply: str, day: Day, plan: Plan | None) -> str:
    known = plan.supply_by_id.get(supply) if plan is not None else None
    if known is not None:
        return known.name
    return next((line.name for line in day.lines if line.supply == supply), supply)


def _packs(entry: book.Ordered | book.Delivered, plan: Plan | None) -> str:
    known = plan.supply_by_id.get(entry.supply) if plan is not None else None
    return str(entry.packs) if known is not None and known.pack == 1 else plural(entry.packs, "pack")


def _visit(key: str, day: Day) -> str:
    return next((f"{visit.name} {visit.class_id}" for visit in day.visits if visit.key == key), key)


def _matter(key: str, day: Day) -> str:
    known = {each.key: each.what for each in day.tasks}
    known |= {each.key: each.what for each in day.checks}
    known |= {each.key: each.what for each in day.matters}
    known |= {f"{FETCH}{each.id}": f"{each.name}, to fetch" for each in day.containers}
    return known.get(key, key)
