"""All measurements, printed as a table: ``python -m tests.benchmarks``, or the names of some, as in ``ALL``.

Each is a ratio to a yardstick run in turns with it, because a machine's speed drifts; nothing here fails by being slow.
"""

from __future__ import annotations

import os
import platform
import sys
from collections.abc import Callable
from pathlib import Path
from tempfile import TemporaryDirectory

import textual

from tests.benchmarks.bringing_in import bring_in_many_supplies
from tests.benchmarks.commands import print_the_morning
from tests.benchmarks.days import build_one_day, teach_a_year
from tests.benchmarks.measuring import Result, as_table
from tests.benchmarks.routes import measure_routes
from tests.benchmarks.rules import measure_rules
from tests.benchmarks.screens import key_to_repaint, start_to_list

ALL: dict[str, Callable[[Path], Result | list[Result]]] = {
    "start": start_to_list,
    "keys": key_to_repaint,
    "command": print_the_morning,
    "day": build_one_day,
    "rules": measure_rules,
    "route": measure_routes,
    "bring-in": bring_in_many_supplies,
    "year": teach_a_year,
}


def describe_machine() -> str:
    """Processor, system, interpreter and Textual, in one line."""
    cpu = platform.processor() or platform.machine()
    known = Path("/proc/cpuinfo")
    if known.exists():
        names = [line.partition(":")[2].strip() for line in known.read_text().splitlines() if "model name" in line]
        cpu = names[0] if names else cpu
    python = f"{platform.python_implementation()} {platform.python_version()}"
    return (
        f"{os.cpu_count()} × {cpu}, {platform.system()} {platform.release()}, {python}, Textual {textual.__version__}"
    )


def main(names: list[str]) -> int:
    unknown = [name for name in names if name not in ALL]
    if unknown:
        print(f"No such measurement: {', '.join(unknown)}. There are: {', '.join(ALL)}.", file=sys.stderr)  # noqa: T201
        return 2
    results: list[Result] = []
    for name in names or ALL:
        with TemporaryDirectory() as folder:
            found = ALL[name](Path(folder) / "school")
        results += [found] if isinstance(found, Result) else found
    print(f"{describe_machine()}\n\n{as_table(results)}")  # noqa: T201
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
