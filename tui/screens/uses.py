"""What uses a thing of the plan? All of it, before it is changed, renamed or taken out."""

from __future__ import annotations

from typing import Any

from textual.content import Content

from checklists.forms.places import kind_of, own_name
from checklists.forms.said import name_of
from checklists.plan.uses import uses_of
from checklists.words import clean, plural
from tui.screens.page import Page
from tui.screens.plan_screen import PlanScreen


def show_uses(screen: PlanScreen, record: Any) -> None:
    """Open the page, or say that there is nothing on it."""
    kind, name = kind_of(record), own_name(record)
    called = clean(name_of(screen.book.plan, record))
    if kind is None or name is None:
        screen.say(f"{called}: it is used here only.")
        return
    uses = uses_of(screen.files, screen.book.own_rules, kind, name)
    if not uses:
        screen.say(f"{called}: nothing uses it.")
        return
    screen.app.push_screen(
        Page(f"{called}: {plural(len(uses), 'use')}", tuple(Content(clean(each.said)) for each in uses))
    )
