"""Where the plan and the daybook are kept."""

from __future__ import annotations

import os
from collections.abc import Mapping
from pathlib import Path

VARIABLE = "TRUNDLE_DATA"


def data_folder(asked: str | os.PathLike[str] | None = None, environment: Mapping[str, str] | None = None) -> Path:
    """The folder asked for, else that of the environment variable TRUNDLE_DATA, else the usual one of the system.

    Nothing is made or looked at. ``environment`` defaults to that of the program.
    """
    surroundings = os.environ if environment is None else environment
    chosen = os.fspath(asked) if asked else surroundings.get(VARIABLE, "")
    if chosen:
        return Path(os.path.abspath(Path(chosen).expanduser()))  # noqa: PTH100 - resolve() would follow her links
    from platformdirs import user_data_path

    return user_data_path("trundle", appauthor=False)
