"""An independent solver (clingo): it enumerates stable models without knowing of layers."""

from __future__ import annotations

import clingo

Symbols = set[clingo.Symbol]


def stable_models(text: str) -> list[Symbols]:
    """What is shown of every stable model of a logic program: all of it, unless the program says what to show.

    A stratified program has exactly one: all that follows from it.
    """
    control = clingo.Control(["--warn=none", "0"])
    control.add("base", [], text)
    control.ground([("base", [])])
    models: list[Symbols] = []
    control.solve(on_model=lambda model: models.append(set(model.symbols(shown=True))))
    return models


def quoted(text: str) -> str:
    """A text as a term of the solver's language."""
    return '"' + text.replace("\\", "\\\\").replace('"', '\\"') + '"'
