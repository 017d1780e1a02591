"""The command about wishes for the route: which ones hold, a further one, one taken back, and what each changes."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date

from checklists.book import Book
from checklists.commandline.finding import find_container, find_period, find_place
from checklists.commandline.opening import day_to_pack, moment_on, open_book
from checklists.commandline.output import say, say_json
from checklists.commandline.request import NotUnderstood, Request
from checklists.lines.containers import CART, FOLDER, name_of
from checklists.lines.loads import box_or_kit
from checklists.lines.records import Day
from checklists.pages.pins import pins_as_json, pins_page, said_page
from checklists.pages.plain import wrap
from checklists.pages.route_wishes import say_pin
from checklists.plan.records import Plan
from checklists.route.day_route import costs_of_pins
from checklists.route.pins import HELPER, Pin, left_out
from checklists.route.wishes import holds, may_be_for_good, step_of
from checklists.walks import STORE
from checklists.wishing import keep_wish
from checklists.words import join_words, nearest, say_date

Find = Callable[[str, Day, Plan], Pin]


def show_or_say_pin(request: Request) -> int:
    """Without words the wishes that hold; with a wish it is said, or with ``--off`` taken back.

    Status 1 where nothing fits on the cart with what holds then.
    """
    with open_book(request, write=bool(request.words)) as book:
        on = day_to_pack(request, book)
        day = book.day(on)
        if not day.visits and not (request.words and request.for_good):
            raise NotUnderstood(f"There are no visits on {say_date(on)}, so there is no route.")
        if not request.words:
            if request.off or request.for_good:
                raise NotUnderstood("Say which wish, like trundle pin never-after P2 --off.")
            return _show(request, book, on)
        return _change(request, book, on, _pin_of(request.words, day, book.plan))


def _show(request: Request, book: Book, on: date) -> int:
    day, route = book.day(on), book.route(on)
    costs, out = costs_of_pins(route, day), left_out(book.plan, book.marks(on).changes)
    if request.json:
        say_json(pins_as_json(day, costs, out))
    else:
        say(pins_page(book.plan, day, costs, out))
    return 0 if route.plan is not None else 1


def _change(request: Request, book: Book, on: date, pin: Pin) -> int:
    plan, day, marks = book.plan, book.day(on), book.marks(on)
    words = say_pin(plan, day, pin)
    if request.for_good and not request.off and not may_be_for_good(plan, pin):
        raise NotUnderstood("Only boxes and kits of the plan are the same every day. Leave out --for-good.")
    route = book.route(on)
    if request.off:
        in_plan = request.for_good and getattr(plan.school.route, pin.kind).get(pin.about) == pin.how
        held = holds(route, pin)
        if held is None and not in_plan:
            raise NotUnderstood(f"{words[:1].upper()}{words[1:]}: that is no wish of {say_date(on)}. See trundle pin.")
        pin = held or pin
    step = step_of(plan, day, marks, route, pin, moment_on(request, on), back=request.off, for_good=request.for_good)
    keep_wish(book, on, step)
    after = book.route(on)
    before_cost, after_cost = (each.plan.cost if each.plan is not None else None for each in (route, after))
    if request.json:
        costs = costs_of_pins(after, day)
        out = left_out(book.plan, book.marks(on).changes)
        is_for_good = step.school is not None
        say_json(pins_as_json(day, costs, out, (pin, request.off, is_for_good), before_cost, after_cost))
    else:
        is_for_good = step.school is not None
        say(said_page(plan, day, pin, before_cost, after_cost, back=request.off, for_good=is_for_good))
        if is_for_good:  # the plan is no step of the day
            off = "" if request.off else " --off"
            then = "says it again" if request.off else "takes it back"
            how = f"trundle pin {_command_of(plan, pin)} --for-good{off} {then}."
            say("\n".join(wrap(f"It is in the plan, where trundle undo takes nothing back: {how}")) + "\n")
    return 0 if after.plan is not None else 1


# --------------------------------------------------------------------------------------------------- what was typed


def _pin_of(words: tuple[str, ...], day: Day, plan: Plan) -> Pin:
    kind, *rest = words
    if kind not in _KINDS:
        near = nearest(kind, _KINDS)
        meant = f"Did you mean {near}?" if near else f"There are {join_words(_KINDS)}."
        raise NotUnderstood(f"There is no wish called {kind}. {meant}")
    if not rest:
        raise NotUnderstood(f"Say what it is about: trundle pin {kind} {_EXAMPLES[kind]}.")
    return _KINDS[kind](" ".join(rest), day, plan)


def _command_of(plan: Plan, pin: Pin) -> str:
    """The words that say a wish: "rides Box 3"."""
    named = name_of(plan, pin.about) if pin.kind == "rides" else pin.about
    kind = {"stops": f"{pin.how}-after", "rides": HELPER if pin.how == HELPER else "rides", "leave_in": "nothing-in"}
    return f'{kind[pin.kind]} "{named}"' if " " in named else f"{kind[pin.kind]} {named}"


def _never_after(word: str, day: Day, plan: Plan) -> Pin:
    return Pin("stops", find_period(word, day, plan), "never")


def _always_after(word: str, day: Day, plan: Plan) -> Pin:
    return Pin("stops", find_period(word, day, plan), "always")


def _rides(word: str, day: Day, plan: Plan) -> Pin:
    return Pin("rides", _box_or_kit(word, day, plan), "always")


def _helper(word: str, day: Day, plan: Plan) -> Pin:
    return Pin("rides", _box_or_kit(word, day, plan), HELPER)


def _nothing_in(word: str, day: Day, plan: Plan) -> Pin:
    room = find_place(word, plan)
    if room == STORE:
        raise NotUnderstood("The store is where things are taken from. Say a room: trundle pin nothing-in 21.")
    return Pin("leave_in", room, "never")


def _box_or_kit(word: str, day: Day, plan: Plan) -> str:
    found = find_container(word, day, plan)
    if found == CART or found.startswith(FOLDER) or box_or_kit(plan, found).half_slots <= 0:
        raise NotUnderstood(f"{word} takes up no room on the cart: it rides wherever it is needed.")
    return found


_KINDS: dict[str, Find] = {
    "never-after": _never_after,
    "always-after": _always_after,
    "rides": _rides,
    "helper": _helper,
    "nothing-in": _nothing_in,
}
_EXAMPLES = {"never-after": "P2", "always-after": "P2", "rides": '"Box 3"', "helper": '"Clay kit"', "nothing-in": "21"}
