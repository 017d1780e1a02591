"""The command that shows the demo school."""

from __future__ import annotations

from datetime import datetime

from msgspec import structs

from checklists.commandline.folder import folder_of
from checklists.commandline.looking import print_list
from checklists.commandline.opening import open_book
from checklists.commandline.request import Request
from checklists.demo import DEMO_TIME, open_demo


def show_demo(request: Request) -> int:
    """The demo school's list, on the day it opens on unless another was asked for."""
    folder = folder_of(request)
    opens_on = open_demo(folder, reset=request.reset)
    now = (
        request.now
        if request.date
        else datetime.combine(opens_on, request.now.time() if request.clock_set else DEMO_TIME)
    )
    shown = structs.replace(request, folder=folder, now=now)
    with open_book(shown) as book:
        return print_list(shown, book, request.date or opens_on)
