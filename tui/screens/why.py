"""Why is this on the list? And: what is there to know about the day?"""

from __future__ import annotations

from typing import ClassVar

from textual.binding import Binding, BindingType
from textual.content import Content

from checklists.lines.records import Check, Day, Line, Task
from checklists.pages.reasons import is_hidden
from checklists.words import plural, say_date
from tui.reasons import reasons_of, told_reasons
from tui.screens.page import Page
from tui.sections import Todo
from tui.widgets.notice import Notice


class WhyScreen(Page):
    """All reasons of a line, the private ones too: this page was asked for, and stays on the desk."""

    def __init__(self, day: Day, line: Line) -> None:
        said = [Content(f"{line.number}  need {line.need}, in it when the day opened {line.in_it}, group {line.group}")]
        for paragraph in reasons_of(line, day, with_private=True):
            said += [Content(""), Content(paragraph)]
        super().__init__(f"Why {line.name}", tuple(said))


class TodoScreen(Page):
    """A task, a check or a carried matter in full, for which day, and why."""

    def __init__(self, day: Day, todo: Todo) -> None:
        things: tuple[Task | Check, ...] = (*day.tasks, *day.checks)
        thing = next((each for each in things if each.key == todo.key), None)
        matter = next((each for each in day.matters if each.key == todo.key), None)
        what = thing.what if thing is not None else todo.what
        said = [Content(f"{todo.number}  {what}" if todo.number else what)]
        if isinstance(thing, Task):
            said.append(
                Content(
                    f"{plural(thing.minutes, 'minute')}, due {say_date(thing.due)}, "
                    f"for {thing.class_id} on {say_date(thing.for_date)}"
                )
            )
        if matter is not None:
            visit = next((each for each in day.visits if each.key == matter.before_visit), None)
            before = f", needed before {visit.name} {visit.class_id}" if visit is not None else ""
            said.append(Content(f"Carried over since {say_date(matter.since)}{before}."))
        if todo.critical:
            said.append(Content("Critical."))
        for paragraph in told_reasons(thing, day, with_private=True) if thing is not None else ():
            said += [Content(""), Content(paragraph)]
        super().__init__("To do", tuple(said))


class PrivateScreen(Page):
    """Cautions that tell of a child's need: asked for with ``w``, and nowhere else on screen."""

    def __init__(self, day: Day) -> None:
        names = {visit.key: visit.name for visit in day.visits}
        said: list[Content] = []
        for caution in day.cautions:
            if is_hidden(caution, private=False):
                said += [Content(f"{names.get(caution.visit, '')} {caution.what}".strip()), Content("")]
        super().__init__(f"Private, {say_date(day.date)}", tuple(said) or (Content("Nothing private."),))


class NoticesScreen(Page):
    """Everything to know about the day, in full, and the preparation that is coming."""

    BINDINGS: ClassVar[list[BindingType]] = [Binding("w", "private", show=False)]

    def __init__(self, day: Day, notices: tuple[Notice, ...]) -> None:
        self.day = day
        said: list[Content] = []
        for notice in notices:
            said += [Content.assemble((f"{notice.sign} {notice.text}", notice.style)), Content("")]
        coming = [task for task in day.tasks if task.due > day.date and not is_hidden(task, private=False)]
        if coming:
            said.append(Content.assemble(("To prepare", "bold")))
            said += [Content(f"{say_date(task.due)}: {task.what}, {plural(task.minutes, 'minute')}") for task in coming]
        if not said:
            said.append(Content("Nothing out of the ordinary."))
        super().__init__(f"To know about {say_date(day.date)}", tuple(said))

    def action_private(self) -> None:
        self.app.push_screen(PrivateScreen(self.day))
