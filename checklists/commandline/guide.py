"""The command that prints the first-morning guide. It needs no plan."""

from __future__ import annotations

from checklists.commandline.output import say, say_json
from checklists.commandline.request import Request
from checklists.guide.first_morning import first_morning
from checklists.pages.guide import guide_as_json, guide_page


def show_guide(request: Request) -> int:
    if request.json:
        say_json(guide_as_json(first_morning()))
    else:
        say(guide_page(first_morning()))
    return 0
