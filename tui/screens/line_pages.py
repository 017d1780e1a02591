"""Which page has everything of a class, a lesson or a supply: where a line leads to.

A kind of page that is not in ``PAGES`` is not offered.
"""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from typing import TYPE_CHECKING

from tui.screens.class_notes import ClassNotesScreen
from tui.screens.day_screen import DayScreen

if TYPE_CHECKING:
    from checklists.line_changes.records import Offer, PageKind

PAGES: dict[PageKind, Callable[[date, str], DayScreen]] = {"class notes": ClassNotesScreen}


def is_there(offer: Offer) -> bool:
    """Whether what an offer leads to can be opened."""
    return offer.takes != "page" or offer.page in PAGES


def page_of(on: date, offer: Offer) -> DayScreen:
    """The page an offer leads to."""
    return PAGES[offer.page](on, offer.ident)
