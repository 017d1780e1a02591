"""The law of orders: what was ordered is what came of it, what is still due and what was let go, whatever she says."""

from __future__ import annotations

from collections import Counter
from datetime import date, timedelta
from pathlib import Path
from tempfile import TemporaryDirectory

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from checklists.book import Book
from checklists.daybook.entries import AnyEntry, Delivered, LetGo, Ordered
from checklists.daybook.marks import ORDER, marks_of
from checklists.daybook.ordering import orders_after
from checklists.daybook.state import State
from tests.daybook.saying import busy_school
from tests.daybook.test_laws import FRESH, closed
from tests.days import at, close, days_from, opened, opened_again
from tests.schools import MONDAY

FEW = settings(max_examples=80, deadline=None, suppress_health_check=[HealthCheck.too_slow])
ON_DISK = settings(max_examples=10, deadline=None, suppress_health_check=[HealthCheck.too_slow])
SUPPLIES = ("white-12x18", "glue-stick", "yarn-ball")
supplies = st.sampled_from(SUPPLIES)


def said_of_orders() -> st.SearchStrategy[Ordered | Delivered | LetGo]:
    """Orders, deliveries in full, in part, of more than was ordered or of another thing, and orders let go."""
    packs = st.integers(0, 12)
    return st.one_of(
        st.builds(Ordered, at=st.just(at()), supply=supplies, packs=packs),
        st.builds(Delivered, at=st.just(at()), supply=supplies, packs=packs),
        st.builds(Delivered, at=st.just(at()), supply=supplies, packs=packs, of=supplies),
        st.builds(LetGo, at=st.just(at()), matter=supplies.map(lambda each: ORDER + each)),
    )


class Told:
    """What becomes of packs if each is written down by itself."""

    def __init__(self) -> None:
        self.ordered: Counter[str] = Counter()
        self.came: Counter[str] = Counter()
        self.let_go: Counter[str] = Counter()

    def due(self, supply: str) -> int:
        return self.ordered[supply] - self.came[supply] - self.let_go[supply]

    def hear(self, said: Ordered | Delivered | LetGo) -> None:
        if isinstance(said, Ordered):
            self.ordered[said.supply] += said.packs
        elif isinstance(said, LetGo):
            supply = said.matter.removeprefix(ORDER)
            self.let_go[supply] += self.due(supply)
        elif not said.of:
            self.came[said.supply] += min(said.packs, self.due(said.supply))


@FEW
@given(st.lists(st.lists(said_of_orders(), max_size=6), max_size=5))
def test_ordered_is_came_and_due_and_let_go(days: list[list[Ordered | Delivered | LetGo]]) -> None:
    told, state = Told(), State()
    for n, day in enumerate(days):
        for said in day:
            told.hear(said)
        orders = orders_after(FRESH.plan, MONDAY + timedelta(n), marks_of(day), state)
        state = State(orders=orders)
        for supply in SUPPLIES:
            assert sum(each.due for each in orders if each.supply == supply) == told.due(supply)
        assert all(0 < each.due <= each.packs for each in orders)
        assert [each.since for each in orders] == sorted(each.since for each in orders)


@FEW
@given(st.lists(said_of_orders(), max_size=8))
def test_what_comes_is_on_hand_and_nothing_else_of_it(said: list[AnyEntry]) -> None:
    nothing: list[AnyEntry] = []
    before, after = closed(FRESH, nothing), closed(FRESH, said)
    for supply in SUPPLIES:
        pack = FRESH.plan.supply_by_id[supply].pack
        came = sum(each.packs for each in said if isinstance(each, Delivered) and each.supply == supply)
        assert after.on_hand[supply] == before.on_hand[supply] + came * pack


@ON_DISK
@given(st.data())
def test_closing_and_correcting_keep_what_is_due(data: st.DataObject) -> None:
    """Five days, closed or not, and one of them corrected at the end: due is what it is if all was said in time."""
    with TemporaryDirectory() as folder:
        book = opened(busy_school(Path(folder)))
        days = days_from(MONDAY, 5)
        told: dict[int, list[Ordered | Delivered | LetGo]] = {}
        for n, day in enumerate(days):
            book.today = day
            told[n] = data.draw(st.lists(said_of_orders(), max_size=3))
            for entry in told[n]:
                book.do(day, entry)
            if data.draw(st.booleans()):
                close(book, day)
        late, corrected = data.draw(said_of_orders()), data.draw(st.integers(0, 4))
        book.do(days[corrected], late)
        told[corrected].append(late)
        if data.draw(st.booleans()):
            book = opened_again(book)

        assert due_after(book, days[-1]) == expected_of(told)
        assert book.check_chain() == ()
        assert book.undo(days[corrected])
        told[corrected].pop()
        assert due_after(book, days[-1]) == expected_of(told)
        assert book.check_chain() == ()
        book.release()


def due_after(book: Book, day: date) -> dict[str, int]:
    orders = book.closing_of(day).orders
    return {supply: sum(each.due for each in orders if each.supply == supply) for supply in SUPPLIES}


def expected_of(told: dict[int, list[Ordered | Delivered | LetGo]]) -> dict[str, int]:
    expected = Told()
    for n in sorted(told):
        for entry in told[n]:
            expected.hear(entry)
    return {supply: expected.due(supply) for supply in SUPPLIES}
