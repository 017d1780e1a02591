"""Monday of the reference school as a problem of its route: the worked example of the trade's handbook page.

Sizes: boxes 2 half slots, kits 1; not to be left are the Stitching kit, the Clay kit and Box 3. Common practice, no
source; the four best costs below were worked out by hand.
"""

from __future__ import annotations

from typing import Any

from msgspec import structs

from checklists.route.problem import RouteContainer, RouteProblem, RouteVisit, Session
from checklists.words import minute_of

NEVER_LEFT = ("stitching", "clay", "box-3")
_VISITS = (
    ("P1 K-M", "4", "8:00", "8:45", ("box-K", "watercolour")),
    ("P2 1-P", "9", "8:45", "9:30", ("box-1",)),
    ("P3 3-B", "12", "9:35", "10:20", ("box-3", "stitching")),
    ("P4 3-K", "14", "10:25", "11:10", ("box-3", "stitching")),
    ("P5 2-R", "11", "12:30", "13:15", ("box-2", "printing")),
    ("P6 4-D", "21", "13:15", "14:00", ("box-4", "clay")),
    ("P7 5-H", "23", "14:05", "14:50", ("box-5",)),
)
_WALKS = {
    ("store", "4"): 2,
    ("store", "9"): 1,
    ("store", "11"): 2,
    ("store", "12"): 2,
    ("store", "14"): 2,
    ("store", "21"): 4,
    ("store", "23"): 4,
    ("4", "9"): 1,
    ("9", "12"): 1,
    ("12", "14"): 1,
    ("14", "21"): 3,
    ("11", "21"): 4,
    ("21", "23"): 1,
}


def reference_monday(half_slots: int = 8, before_school: int = 15, **changes: Any) -> RouteProblem:
    """Day A with a cart of so many half slots and so many minutes before school for leaving ahead."""
    visits = tuple(
        RouteVisit(key, room, minute_of(start), minute_of(end), needs) for key, room, start, end, needs in _VISITS
    )
    names = dict.fromkeys(each for visit in visits for each in visit.needs)
    containers = tuple(
        RouteContainer(each, 2 if each.startswith("box") else 1, may_be_left=each not in NEVER_LEFT) for each in names
    )
    problem = RouteProblem(
        visits=visits,
        containers=containers,
        capacity=half_slots,
        walks=_WALKS,
        handling=2,
        sessions=(Session(0, before_school), Session(4, 30)),
    )
    return structs.replace(problem, **changes)
