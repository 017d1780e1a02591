"""Whether any rule could ask a thing of a part at all, by the part's tags alone: saves asking most of them."""

from __future__ import annotations

from functools import lru_cache
from typing import Literal

from checklists.rules.read import RuleSet
from checklists.rules.records import Rule

Asked = Literal["tasks before", "tasks after", "next part"]


@lru_cache(maxsize=4096)
def may_ask(rules: RuleSet, asked: Asked, tags: frozenset[str]) -> bool:
    """False only where no rule that is on does this for a part with these tags, whatever else is so of a visit."""
    return any(needed <= tags for needed in _part_tags_needed(rules, asked))


@lru_cache(maxsize=64)
def _part_tags_needed(rules: RuleSet, asked: Asked) -> frozenset[frozenset[str]]:
    """Of each rule that does this, the part's own tags that it cannot do without.

    A tag that some rule gives as well need not be the part's own.
    """
    on = [rule for rule in rules.rules if rule.id in rules.clauses]
    given = {" ".join(each.split()) for rule in on for each in rule.gives}
    own = rules.vocabulary.part.keys() - given
    sentences = (frozenset(" ".join(each.split()) for each in rule.when) for rule in on if _does(rule, asked))
    return frozenset(each & own for each in sentences)


def _does(rule: Rule, asked: Asked) -> bool:
    if asked == "next part":
        return bool(rule.next_part)
    return any(task.is_after == (asked == "tasks after") for task in rule.tasks)
