"""Which page has everything of a class, a lesson or a supply: where a line leads to."""

from __future__ import annotations

from datetime import date
from typing import TYPE_CHECKING

from checklists.forms.places import Place
from tui.screens.class_notes import ClassNotesScreen
from tui.screens.day_screen import DayScreen
from tui.screens.plan_form import PlanFormScreen

if TYPE_CHECKING:
    from checklists.line_changes.records import Offer, PageKind

FORMS: dict[PageKind, Place] = {"class": ("classes", "classes"), "lesson": ("lessons",), "supply": ("supplies",)}
"""Kinds of things that have a form, and where in the plan files they stand; the id follows."""


def place_of(offer: Offer) -> Place:
    """Where in the plan files the thing stands whose form it is."""
    return (*FORMS[offer.page], offer.ident)


def page_of(on: date, offer: Offer) -> DayScreen:
    """The page an offer leads to."""
    if offer.page in FORMS:
        return PlanFormScreen(on, place_of(offer), offer.label.removeprefix("everything about "))
    return ClassNotesScreen(on, offer.ident)
