"""Under which subject a rule stands: that of the file it comes with, or her own."""

from __future__ import annotations

import tomllib
from functools import lru_cache
from pathlib import Path

from checklists.rules import read
from checklists.rules.read import RuleSet
from checklists.rules.records import Rule

OWN = "Your own"


@lru_cache(maxsize=1)
def _subject_of_builtin() -> dict[str, str]:
    """Id of a rule that comes with the program -> subject."""
    found: dict[str, str] = {}
    for path in sorted((Path(read.__file__).parent / "builtin").glob("*.toml")):
        for rule in tomllib.loads(path.read_text(encoding="utf-8")).get("rules", ()):
            found[rule["id"]] = path.stem.replace("_", " ").capitalize()
    return found


def rules_by_subject(rules: RuleSet, own: frozenset[str]) -> dict[str, list[Rule]]:
    """Every rule under its subject, her own first, the others in the order in which they are applied."""
    known = _subject_of_builtin()
    found: dict[str, list[Rule]] = {}
    for rule in sorted(rules.rules, key=lambda each: each.id not in own):
        subject = OWN if rule.id in own else known.get(rule.id, "Others")
        found.setdefault(subject, []).append(rule)
    return found
