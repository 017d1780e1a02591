"""Why is this on the list? And: what is there to know about the day?"""

from __future__ import annotations

from textual.content import Content

from checklists.lines.records import Day, Line
from checklists.words import plural, say_date
from tui.reasons import reasons_of
from tui.screens.page import Page
from tui.widgets.notice import Notice


class WhyScreen(Page):
    """All reasons of a line, the private ones too: this page was asked for, and stays on the desk."""

    def __init__(self, day: Day, line: Line) -> None:
        said = [Content(f"{line.number}  need {line.need}, in it when the day opened {line.in_it}, group {line.group}")]
        for paragraph in reasons_of(line, day, with_private=True):
            said += [Content(""), Content(paragraph)]
        super().__init__(f"Why {line.name}", tuple(said))


class NoticesScreen(Page):
    """Everything to know about the day, in full, and the preparation that is coming."""

    def __init__(self, day: Day, notices: tuple[Notice, ...]) -> None:
        said: list[Content] = []
        for notice in notices:
            text = f"{notice.sign} {notice.text}"
            said += [Content.assemble((text, "bold $alarm")) if notice.critical else Content(text), Content("")]
        coming = [task for task in day.tasks if task.due > day.date]
        if coming:
            said.append(Content.assemble(("To prepare", "bold")))
            said += [Content(f"{say_date(task.due)}: {task.what}, {plural(task.minutes, 'minute')}") for task in coming]
        if not said:
            said.append(Content("Nothing out of the ordinary."))
        super().__init__(f"To know about {say_date(day.date)}", tuple(said))
