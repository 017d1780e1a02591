"""Which folder a request is about."""

from __future__ import annotations

from pathlib import Path

from checklists.commandline.request import Request
from checklists.files.places import data_folder


def folder_of(request: Request) -> Path:
    """The folder of plan and daybook: `--data`, else the environment variable, else this computer's usual place.

    The demo school has a folder of its own in the usual place unless `--data` names one.
    """
    if request.command == "demo" and request.folder is None:
        return data_folder(environment={}) / "demo"
    return data_folder(request.folder)
