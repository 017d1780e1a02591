"""Another number of children came than the class list has: only today, or from now on?"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime

from checklists.daybook.counts_pending import name_of_visit
from checklists.daybook.entries import Reported, Sized, Ticked
from checklists.daybook.marks import Marks
from checklists.daybook.matters import MISSED, Choice, OpenMatter
from checklists.lines.records import Day, Visit
from checklists.plan.records import Plan
from checklists.words import plural

ONLY_TODAY = "only today"
FROM_NOW_ON = "from now on"


def ask_sizes(plan: Plan, day: Day, marks: Marks, at: datetime) -> Iterator[OpenMatter]:
    """One question for each class that came in another number, those who were absent counted in."""
    asked: set[str] = set()
    for visit in day.visits:
        report, class_ = marks.reports.get(visit.key), plan.class_by_id[visit.class_id]
        sized = marks.sized.get(class_.id)
        count = _belonging(visit, report)
        before = sized.before if sized is not None else class_.headcount
        if count is None or count == before or class_.id in asked:
            continue
        asked.add(class_.id)
        key = f"size/{class_.id}"
        now = Sized(at=at, class_id=class_.id, students=count, before=before, about_before=class_.is_about)
        answer = FROM_NOW_ON if sized is not None else ONLY_TODAY if key in marks.seen_to else ""
        yield OpenMatter(
            key=key,
            section=MISSED,
            text=f"{name_of_visit(visit)}: {plural(count, 'child')}, and the class list has {before}. From now on?",
            critical=False,
            choices=()
            if sized is not None
            else (Choice(ONLY_TODAY, (Ticked(at=at, matter=key),)), Choice(FROM_NOW_ON, (now,))),
            hint="undo takes it back" if sized is not None else "",
            answer=answer,
            visit=visit.key,
        )


def _belonging(visit: Visit, report: Reported | None) -> int | None:
    """How many children the class has by what was counted in the room, without others who were there; None: nobody
    counted.
    """
    if report is None or report.students is None or not report.absences_known:
        return None
    absent = len(report.absent) + report.absent_count
    others = sum(each.count for each in (*visit.guests, *visit.joined))
    return max(0, report.students + absent - others)
