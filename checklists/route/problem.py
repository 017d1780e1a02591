"""A day's route as a problem, and a plan for it, as frozen records. Sizes are in half slots of the cart."""

from __future__ import annotations

from msgspec import Struct

STANDS = -1
"""Instead of a session: it stands in the room already, whoever brought it there."""


class RouteVisit(Struct, frozen=True):
    """One visit: ``needs`` are the containers that take up room, the cart's own things left out."""

    key: str
    room: str
    start: int
    end: int
    """Minutes since midnight."""
    needs: tuple[str, ...]
    walk_more: int = 0
    """Minutes that each walk on the way to it takes more than usual."""
    carried: int | None = None
    """Minutes from the store to its door where no cart gets there and all is carried by hand; None: it comes on the
    cart. It needs nothing that rides then."""
    folders: int = 0
    """Class folders that come along to it."""
    by_hand: tuple[str, ...] = ()
    """What is carried to it where no cart gets to: it takes no room on the cart, and must be at the store."""


class RouteContainer(Struct, frozen=True):
    """A container with its size, its mass where it is known, and whether it may stand in a room without her."""

    id: str
    size: int
    kilograms: float = 0
    may_be_left: bool = True

    @property
    def grams(self) -> int:
        """Whole grams: sums of them are exact."""
        return round(self.kilograms * 1000)


class Session(Struct, frozen=True):
    """A time at the store: before school (``after`` 0), or in a long break after so many visits."""

    after: int
    minutes: int
    been: tuple[str, ...] = ()
    """Rooms she has been to in it already: the way there costs its minutes, and no second time."""


class LeftAhead(Struct, frozen=True, order=True):
    """A container that stands in a room before its visit: taken there in a session, and joining the cart or not."""

    container: str
    room: str
    session: int
    """Index into the sessions; ``STANDS``: it stood there already."""
    joins: bool = False
    """It rides on from its visit to the leg's end; otherwise it is left behind and fetched after school."""


class Leg(Struct, frozen=True):
    """The visits ``first`` to ``last`` (counted from 0) between two stops, what rides, and what was left ahead."""

    first: int
    last: int
    rides: tuple[str, ...]
    ahead: tuple[LeftAhead, ...] = ()
    kept: tuple[str, ...] = ()
    """On the cart though no visit of the leg needs them, because a later leg carries them again."""

    @property
    def takes(self) -> bool:
        """Whether anything is taken from the store for it: what stands in its room already is not."""
        return bool(self.rides) or any(each.session != STANDS for each in self.ahead)


class Standing(Struct, frozen=True, order=True):
    """A container that stands in the room of its next visit, taken as it is."""

    container: str
    room: str


class Begun(Struct, frozen=True):
    """How far the day has come: ``visits`` have begun, on these legs.

    ``out``: she is under way, and the last leg may go on with what rides on it. Its ``last`` is the visit up to which
    she set out: the folders of later ones, where they are not in their boxes, are at the store. Otherwise she is at the
    store herself.
    """

    legs: tuple[Leg, ...] = ()
    visits: int = 0
    out: bool = False

    @property
    def containers(self) -> frozenset[str]:
        """Everything that rode on these legs, or was left ahead on them."""
        rode = {each for leg in self.legs for each in (*leg.rides, *leg.kept)}
        return frozenset(rode | {each.container for leg in self.legs for each in leg.ahead})


class RouteProblem(Struct, frozen=True, dict=True):
    """Everything that a plan depends on, and nothing else.

    ``walks`` has the minutes between each two places of the day and the store, either way round; ``handling`` are the
    minutes of a stop. ``no_stop_after`` and ``stop_after`` are visits after which she does not, or does, go by the
    store: in a break too, which is none then; ``never_in`` are rooms in which nothing is left; ``must_ride`` is never
    left ahead. ``folders_on_top`` ride on the top tray in each leg; each further one takes ``folder_size``.
    ``standing`` and ``begun`` are as they are. ``opens`` is the minute of the day from which the store is open, 0 where
    it always is: a leg for which anything is taken from there leaves it no earlier, and is late at its first visit if
    that is too late.
    """

    visits: tuple[RouteVisit, ...]
    containers: tuple[RouteContainer, ...]
    capacity: int
    walks: dict[tuple[str, str], int]
    handling: int
    sessions: tuple[Session, ...]
    most_kilograms: float | None = None
    no_stop_after: frozenset[int] = frozenset()
    stop_after: frozenset[int] = frozenset()
    never_in: frozenset[str] = frozenset()
    must_ride: frozenset[str] = frozenset()
    folders_on_top: int = 0
    folder_size: int = 0
    standing: tuple[Standing, ...] = ()
    begun: Begun = Begun()
    opens: int = 0

    def gap_before(self, n: int) -> int:
        """Minutes between the bells before visit ``n``; 0 for the first one, which is late by the store alone."""
        return self.visits[n].start - self.visits[n - 1].end if n else 0

    @property
    def most_grams(self) -> int | None:
        return None if self.most_kilograms is None else round(self.most_kilograms * 1000)


class Cost(Struct, frozen=True, order=True):
    """What a plan costs; each figure counts only where all before it are equal."""

    late: int
    stops: int
    """Stops at the store that are not in a session's break."""
    ahead: int
    """Containers left ahead in a session: what stood there already costs nothing more."""
    behind: int
    loaded: int
    """Containers loaded at stops, summed over the legs."""


class RoutePlan(Struct, frozen=True):
    legs: tuple[Leg, ...]
    cost: Cost

    @property
    def left_ahead(self) -> frozenset[tuple[str, str]]:
        """Container and room of everything that is left ahead, or stands there already."""
        return frozenset((each.container, each.room) for leg in self.legs for each in leg.ahead)


def visit_it_is_for(problem: RouteProblem, leg: Leg, each: LeftAhead) -> int:
    """The visit in whose room a container stands: the first of its leg that needs it, of those to come if it stands.

    In a leg that is over and was told otherwise since it may be none; then it is the leg's first.
    """
    begun = problem.begun
    is_over = any(each in was.ahead for was in begun.legs if was.first == leg.first)
    since = max(leg.first, begun.visits) if each.session == STANDS and not is_over else leg.first
    using = [n for n in range(since, leg.last + 1) if each.container in problem.visits[n].needs]
    there = [n for n in using if problem.visits[n].room == each.room]
    return next(iter(there if is_over else using), leg.first)
