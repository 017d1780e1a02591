"""A rule of her own from a line of the list: what she can say about its supply, and when it is to count.

She chooses a kind, a time and a number; ``rule_from`` makes the rule with an id that can be read in the file, and with
the sentences that the list and the screens show for it.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from datetime import date
from typing import Literal, get_args

from msgspec import Struct, structs

from checklists.lines.quantities import usual_spare
from checklists.lines.records import Day, Line
from checklists.own_rules.telling import say_basis
from checklists.own_rules.times import When, times_for, words_for
from checklists.plan.records import Basis, Plan, Spare
from checklists.rules.read import RuleSet
from checklists.rules.records import Add, Forbid, Raise, Rule, RuleBasis
from checklists.words import say_full_date, say_number

Kind = Literal["add", "never", "spare"]
"""Have it along, never have it along, have more of it to spare."""
BASES: tuple[Basis, ...] = get_args(Basis)
MOST_SPARE_MORE = 2
"""How much more to spare is proposed. Common practice, no source."""
_YOUNG = ("PK", "K", "1")


class Choice(Struct, frozen=True):
    """A rule of her own as she chose it. ``when`` has the condition sentences; without any it counts in every visit."""

    kind: Kind
    supply: str
    when: tuple[str, ...] = ()
    per: RuleBasis = "class"
    """One of ``BASES``, or "need NAME" for each child with the need."""
    count: float = 1
    """For "add" so many for each of ``per``; for "spare" so many to spare at least."""
    critical: bool = False
    instead: str = ""
    """For "never": the supply to use in its place."""
    reason: str = ""
    """Why, in her words; may be empty."""


class Proposal(Struct, frozen=True):
    """One kind of rule that can be made of a line, with the times to choose from."""

    label: str
    """ "Always add paper towels"."""
    choice: Choice
    """With the first of ``times``, and number and basis as the line has them."""
    times: tuple[When, ...]
    """The narrowest that she most likely means first, every visit last."""


def proposals_for(plan: Plan, rules: RuleSet, day: Day, line: Line) -> tuple[Proposal, ...]:
    """What she can make of a line of the day; nothing of a class folder, which is no supply."""
    supply = plan.supply_by_id.get(line.supply)
    if supply is None:
        return ()
    times = times_for(plan, rules, day, line.visits)
    first = times[0].sentences
    per, count = _as_on_the_list(day, line)
    young = any(visit.grade in _YOUNG for visit in day.visits if visit.key in line.visits)
    usual = usual_spare(plan.school.habits, supply, young).at_least
    more = usual + MOST_SPARE_MORE
    add = Choice("add", line.supply, first, per, count, line.critical)
    never = Choice("never", line.supply, first, instead=supply.instead or "")
    spare = Choice("spare", line.supply, first, count=more)
    found = [Proposal(f"Always add {supply.name}", add, times), Proposal(f"Never take {supply.name}", never, times)]
    if any(use.per_student for use in line.uses):
        label = f"At least {say_number(more)} {supply.name} to spare, where {usual} are usual"
        found.append(Proposal(label, spare, times))
    return tuple(found)


def _as_on_the_list(day: Day, line: Line) -> tuple[Basis, float]:
    """What a line is counted by and how many of each, as far as its first visit tells."""
    visit = next((each for each in day.visits if each.key == line.visits[0]), None)
    use = next((each for each in line.uses if each.visit == line.visits[0]), None)
    if visit is None or use is None:
        return "class", max(1, line.need)
    if use.per_student and visit.students:
        pairs = -(-visit.students // 2)
        return (
            ("pair", 1) if pairs <= use.amount < visit.students else ("student", max(1, use.amount // visit.students))
        )
    if visit.tables > 1 and use.amount % visit.tables == 0 and use.amount:
        return "table", use.amount / visit.tables
    return "class", max(1, use.amount)


# ------------------------------------------------------------------------------------------------ as a sentence


def say_choice(choice: Choice, plan: Plan, rules: RuleSet) -> str:
    """The rule in one sentence: "Paper towels: 2 per table when a part is tagged wet; critical"."""
    name = plan.name_of_supply(choice.supply)
    when = _say_when(choice, plan, rules)
    match choice.kind:
        case "never":
            instead = f"; {plan.name_of_supply(choice.instead)} instead" if choice.instead else ""
            return f"Never {name} {when}{instead}"
        case "spare":
            return f"{_capital(name)}: at least {say_number(choice.count)} to spare {when}"
    return f"{_capital(name)}: {_say_count(choice)} {when}" + ("; critical" if choice.critical else "")


def _say_when(choice: Choice, plan: Plan, rules: RuleSet) -> str:
    if choice.kind == "never" and not choice.when:
        return "in any visit"
    return words_for(choice.when, plan, rules)


def _say_reason(choice: Choice, plan: Plan, rules: RuleSet) -> str:
    """Why, where she gave no reason of her own."""
    wish = {"add": "you want it", "never": "you do not want it", "spare": "you want more of it to spare"}
    return f"{wish[choice.kind]} {_say_when(choice, plan, rules)}"


def _say_count(choice: Choice) -> str:
    return f"{say_number(choice.count)} {say_basis(choice.per)}"


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]


# --------------------------------------------------------------------------------------------------- as a rule


def rule_from(choice: Choice, plan: Plan, rules: RuleSet, today: date | None = None) -> Rule:
    """The rule of a choice, with an id that no rule has. ``today`` goes into its source: when she made it."""
    sentence = _harmless(say_choice(structs.replace(choice, critical=False), plan, rules))
    reason = _harmless(choice.reason.strip()) or _harmless(_say_reason(choice, plan, rules))
    made = "your own rule" if today is None else f"your own rule, {say_full_date(today)}"
    return Rule(
        id=free_id(_id_of(choice), (each.id for each in rules.rules)),
        title=sentence[:400],
        when=choice.when,
        because=reason[:400],
        add=_added(choice),
        forbid=(Forbid(choice.supply, choice.instead),) if choice.kind == "never" else (),
        raises=_raised(choice),
        source=made,
    )


def _added(choice: Choice) -> tuple[Add, ...]:
    if choice.kind != "add":
        return ()
    count = int(choice.count) if choice.count == int(choice.count) else choice.count
    return (Add(count=count, per=choice.per, supply=choice.supply, critical=choice.critical),)


def _raised(choice: Choice) -> tuple[Raise, ...]:
    return (Raise(choice.supply, Spare(at_least=round(choice.count))),) if choice.kind == "spare" else ()


def _harmless(text: str) -> str:
    """Without braces: a name of hers is no blank to be filled in."""
    return text.replace("{", "(").replace("}", ")")


def _id_of(choice: Choice) -> str:
    start = {"add": "", "never": "never ", "spare": "spare "}[choice.kind] + choice.supply
    time = " ".join(choice.when) or "every visit"
    time = time.replace("class is ", "for ").replace("lesson is ", "in ").replace("grade ", "grade-")
    return f"{start} {time}"


def free_id(text: str, taken: Iterable[str]) -> str:
    """A short id made of words: small letters, digits and dashes, and one that is not taken."""
    ident = re.sub(r"[^a-z0-9]+", "-", text.casefold()).strip("-")[:50].strip("-") or "own-rule"
    every = set(taken)
    number = 2
    found = ident
    while found in every:
        found = f"{ident}-{number}"
        number += 1
    return found
