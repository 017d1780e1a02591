"""What a backup holds and what putting it back would do: sentences for the screen and the terminal, and JSON."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

from checklists.backup.about import About, say_days, say_moment
from checklists.backup.difference import Difference
from checklists.pages.fields import Fields
from checklists.pages.plain import wrap
from checklists.words import clean, plural, say_date

if TYPE_CHECKING:
    from checklists.backing_up import Usable

MOST_NAMED = 8
"""Days named one by one; of more only the first and how many."""


def say_made(path: Path, about: About) -> tuple[str, ...]:
    """That a backup was made, where, and what is in it."""
    return (
        f"Backed up: {clean(str(path))}",
        f"In it: {about.school}, {say_days(about.days, about.newest)}; {plural(len(about.files), 'file')} read back.",
    )


def say_what_is_in_it(found: Usable) -> tuple[str, ...]:
    """What is in a backup."""
    about = found.backup.about
    plan = f"{plural(found.classes, 'class', 'classes')}, {plural(found.lessons, 'lesson')}"
    return (
        f"{about.school}, backed up on {say_moment(about.made)}.",
        f"The plan with {plan}; the daybook: {say_days(about.days, about.newest)}.",
        f"Every file of it is there and as it was: {len(about.files)}.",
    )


def say_what_would_happen(difference: Difference) -> tuple[str, ...]:
    """What is here now, and what would be different. Of days first: they are what cannot be typed in again."""
    is_without_plan = not difference.days_here and not difference.school_here
    if is_without_plan and not difference.goes and not difference.other:
        return ("Nothing is here yet: all of it is put here.",)
    school = difference.school_here or "A plan that does not read"
    here = f"{school}; {say_days(difference.days_here, difference.newest_here)}"
    if is_without_plan:
        here = "no plan that reads"
    if difference.is_none:
        return (f"Here now: {here}.", "That is the same as in the backup. Nothing would be different.")
    told = [f"Here now: {here}."]
    if difference.days_that_go:
        told.append(f"Told here and not in the backup, so gone from the list: {_days(difference.days_that_go)}.")
    if difference.days_other:
        told.append(f"Told otherwise in the backup, and then as there: {_days(difference.days_other)}.")
    counts = ((difference.other, "replaced"), (difference.comes, "added"), (difference.goes, "taken away"))
    files = [f"{plural(len(names), 'file')} {done}" for names, done in counts if names]
    told.append(f"{', '.join(files)}: {_names((*difference.other, *difference.comes, *difference.goes))}.")
    told.append("What is here now is backed up first, so that you can go back to it.")
    return tuple(told)


def backup_page(path: Path, about: About) -> str:
    """Plain text: a backup was made."""
    made, what = say_made(path, about)
    rows = [made, *wrap(what), *wrap("Keep it on another disk than your school's files, where only you get at it.")]
    return "\n".join([*rows, ""])


def restore_page(found: Usable, kept: Path | None, *, done: bool) -> str:
    """Plain text: what a backup holds, and what putting it back would do or did."""
    name = clean(str(found.backup.path))
    rows = [f"In {clean(found.backup.path.name)}", ""]
    rows += _listed(say_what_is_in_it(found))
    if not done:
        rows += ["", "Put back, this would happen", "", *_listed(say_what_would_happen(found.difference)), ""]
        rows += ["Nothing is changed yet. To do it:", f'  trundle restore "{name}" --yes']
        return "\n".join([*rows, ""])
    rows += ["", "It is put back, all of it."]
    if kept is not None:
        rows += ["What was here before is kept. To go back to it:", f'  trundle restore "{clean(str(kept))}" --yes']
    return "\n".join([*rows, ""])


def backup_as_json(path: Path, about: About) -> Fields:
    """The page "backup": ``made`` is the file or folder; ``school days newest files bytes`` what is in it."""
    return {"format": 1, "page": "backup", "made": str(path), **_about_fields(about)}


def restore_as_json(found: Usable, kept: Path | None, *, done: bool) -> Fields:
    """The page "restore".

    ``backup`` is the file or folder, ``made`` when; ``school days newest files bytes classes lessons`` what is in it;
    ``here`` has ``school days newest``; ``replaced added taken_away`` are files, ``days_that_go days_other`` dates;
    ``done`` says whether it was put back, ``kept`` is then the backup of what was there, empty where nothing was.
    """
    difference, about = found.difference, found.backup.about
    return {
        "format": 1,
        "page": "restore",
        "backup": str(found.backup.path),
        "made": about.made.isoformat(),
        **_about_fields(about),
        "classes": found.classes,
        "lessons": found.lessons,
        "here": {
            "school": difference.school_here,
            "days": difference.days_here,
            "newest": difference.newest_here.isoformat() if difference.newest_here else None,
        },
        "replaced": list(difference.other),
        "added": list(difference.comes),
        "taken_away": list(difference.goes),
        "days_that_go": [each.isoformat() for each in difference.days_that_go],
        "days_other": [each.isoformat() for each in difference.days_other],
        "done": done,
        "kept": str(kept) if kept is not None else "",
    }


def _about_fields(about: About) -> Fields:
    return {
        "school": about.school,
        "days": about.days,
        "newest": about.newest.isoformat() if about.newest else None,
        "files": len(about.files),
        "bytes": about.bytes,
    }


def _days(days: tuple[date, ...]) -> str:
    named = [say_date(each) for each in days[:MOST_NAMED]]
    more = len(days) - len(named)
    return ", ".join(named) + (f" and {plural(more, 'more day')}" if more else "")


def _names(names: tuple[str, ...]) -> str:
    plain = [clean(each) for each in names if not each.endswith(".before")] or [clean(each) for each in names]
    more = len(names) - min(len(plain), MOST_NAMED)
    return ", ".join(plain[:MOST_NAMED]) + (f" and {more} more" if more else "")


def _listed(words: Iterable[str]) -> list[str]:
    return [row for each in words for row in wrap(each, first="  ", indent=4)]
