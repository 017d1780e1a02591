"""Why something is on the list, in words a parent would understand: how its number came about, the reasons with the
chain of facts and where a rule's numbers come from, and how it can be changed. One record for pages and screens alike.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from msgspec import Struct, structs

from checklists.daybook.marks import Marks
from checklists.lines.records import Because, Caution, Check, Day, Decision, Line, Matter, TakeOut, Task
from checklists.pages.plain import wrap
from checklists.pages.reasons import Thing, is_hidden, reasons_of
from checklists.pages.why_change import ways_to_change
from checklists.pages.why_number import say_how
from checklists.plan.records import Plan
from checklists.rules.records import Rule
from checklists.words import join_words, plural

KINDS: Mapping[type, str] = {
    Line: "line",
    Task: "task",
    Check: "check",
    Caution: "caution",
    TakeOut: "take out",
    Decision: "decision",
    Matter: "matter",
}
PRIVATE = "a private matter"


class Reason(Struct, frozen=True):
    """One reason: what it says of which visits, and the rule it comes from with the facts it rests on."""

    text: str
    rule: str = ""
    """Title of the rule; empty where it comes from the lesson itself."""
    facts: tuple[str, ...] = ()
    source: str = ""
    """Where the rule and its numbers come from."""
    private: bool = False


class Why(Struct, frozen=True):
    """Everything there is to say about one thing."""

    kind: str
    title: str
    how: tuple[str, ...]
    """How its number came about, its minutes, its dates: a sentence each."""
    reasons: tuple[Reason, ...]
    change: tuple[str, ...]
    """How it can be changed: a sentence each."""
    left_out: int = 0
    """Reasons that tell of a child's need and were not asked for."""


def why_of(thing: Thing, plan: Plan, rules: Iterable[Rule], day: Day, marks: Marks, *, private: bool) -> Why:
    """Why a thing is on the day's list. Without ``private`` what tells of a child's need is left out."""
    by_id = {rule.id: rule for rule in rules}
    if isinstance(thing, Matter):
        return Why(
            KINDS[Matter], thing.what, say_how(thing, day, marks, private), (), ways_to_change(thing, (), plan, day)
        )
    shown = reasons_of(thing, private)
    behind = tuple(by_id[each.rule] for each in shown if each.rule in by_id)
    hidden = is_hidden(thing, private)  # a thing itself stands on every list, only why it does is left out
    behind_once = tuple(dict.fromkeys(behind))
    return Why(
        kind=KINDS[type(thing)],
        title=PRIVATE if hidden and not isinstance(thing, Line) else title_of(thing, day),
        how=say_how(thing, day, marks, private),
        reasons=tuple(reason_of(each, by_id, day) for each in _together(shown)),
        change=() if hidden and not isinstance(thing, Line) else ways_to_change(thing, behind_once, plan, day),
        left_out=len(thing.because) - len(shown),
    )


def _together(reasons: Iterable[Because]) -> tuple[Because, ...]:
    """Reasons that say the same of several visits as one."""
    together: dict[Because, tuple[str, ...]] = {}
    for each in reasons:
        bare = structs.replace(each, visits=())
        together[bare] = tuple(dict.fromkeys((*together.get(bare, ()), *each.visits)))
    return tuple(structs.replace(bare, visits=visits) for bare, visits in together.items())


def title_of(thing: Thing, day: Day) -> str:
    """What is asked about, in a few words."""
    if isinstance(thing, Line):
        kit = f", catch-up kit of {thing.catch_up_for}" if thing.catch_up_for else ""
        return f"{thing.number}  {thing.name}, {container_name(thing.container, day)}{kit}"
    if isinstance(thing, TakeOut):
        return f"{thing.number}  take out {thing.count} {thing.name}, {container_name(thing.container, day)}"
    if isinstance(thing, Decision):
        return thing.text
    number = f"{thing.number}  " if isinstance(thing, Task | Check) and thing.number else ""
    return number + thing.what


def container_name(container: str, day: Day) -> str:
    return next((each.name for each in day.containers if each.id == container), container)


def reason_of(because: Because, rules: Mapping[str, Rule], day: Day) -> Reason:
    """One reason, with its rule by name. A rule is never told by its id alone."""
    rule = rules.get(because.rule)
    title = because.rule_title or (rule.title if rule is not None else "")
    if because.rule and not title:
        title = "a rule that is not in use any more"
    names = {visit.key: f"{visit.name} {visit.class_id}" for visit in day.visits}
    whom = join_words(names[key] for key in because.visits if key in names)
    return Reason(
        text=f"{whom}: {because.text}" if whom else because.text,
        rule=title,
        facts=tuple(fact.rstrip(".") for fact in because.facts),
        source=rule.source if rule is not None else "",
        private=because.private,
    )


def why_page(why: Why) -> str:
    """The whole of it as plain text."""
    parts = wrap(why.title, indent=4)
    parts += [row for each in why.how for row in wrap(each, first="    ", indent=4)]
    for reason in why.reasons:
        parts += ["", *wrap(reason.text, first="  - ", indent=4)]
        if reason.rule:
            parts += wrap(f"Rule: {reason.rule}", indent=4)
        if reason.facts:
            parts += wrap(f"The facts: {'. '.join(reason.facts)}.", indent=4)
        if reason.source:
            parts += wrap(f"Where that comes from: {reason.source}", indent=4)
    if why.left_out:
        left = f"{plural(why.left_out, 'reason')} left out as private; --private shows the whole."
        parts += ["", *wrap(left, first="  - ", indent=4)]
    if why.change:
        parts += ["", "To change it", *(row for each in why.change for row in wrap(each, first="  - ", indent=4))]
    return "\n".join(parts) + "\n"
