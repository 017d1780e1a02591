"""The command that puts an icon onto the desktop. It needs no plan."""

from __future__ import annotations

from pathlib import Path

from checklists.commandline.folder import folder_of
from checklists.commandline.output import say, say_json
from checklists.commandline.request import NotUnderstood, Request
from checklists.files.start_files import icon_places, put_icon, start_of, system_here
from checklists.pages.icon import icon_as_json, icon_page


def make_icon(request: Request) -> int:
    start, system = start_of(folder_of(request)), system_here()
    icon = put_icon(_place_of(" ".join(request.words)), start, system)
    if request.json:
        say_json(icon_as_json(icon, start, system))
    else:
        say(icon_page(icon, start, system))
    return 0


def _place_of(typed: str) -> Path:
    if not typed:
        found = icon_places()
        if not found:
            raise NotUnderstood("Say where the icon is to go: trundle icon FOLDER.")
        return found[0].path
    try:
        return Path(typed).expanduser().absolute()
    except RuntimeError:  # the folder of a user there is not
        raise NotUnderstood(f"There is no folder {typed}.") from None
