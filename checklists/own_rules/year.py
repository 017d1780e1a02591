"""The plan's year gone through as planned, quickly: only visits and parts, each class going on by one part a visit.

For the questions whether and when a rule counts at all. What single days need is not worked out.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from msgspec import Struct, structs

from checklists.book import Book
from checklists.calendar import Calendar
from checklists.daybook.state import State
from checklists.lines.ahead import progress_after
from checklists.lines.day import calendar_for
from checklists.lines.facts import Surroundings, facts_of
from checklists.lines.records import Step, Visit
from checklists.plan.records import Plan
from checklists.rules.apply import effects_for
from checklists.rules.read import RuleSet
from checklists.rules.records import Action, Rule, SwitchedOff, VisitFacts
from checklists.rules.vocabulary import marks_of_supply
from checklists.visits import visits_on

_Counts = tuple[str, Action, str]


class PlannedDay(Struct, frozen=True):
    """A school day of the year with its visits, and the state it is planned to open with."""

    date: date
    state: State
    visits: tuple[Visit, ...]


def planned_days(plan: Plan, opening: State, start: date) -> Iterator[PlannedDay]:
    """The school days from ``start`` on, classes standing at its opening as ``opening`` says."""
    calendar = calendar_for(plan, opening, start, None)
    state = structs.replace(opening, unsure={})
    for day in _school_days(calendar, start):
        visits = visits_on(plan, state, calendar, day, None)
        yield PlannedDay(day, state, visits)
        state = structs.replace(state, progress=progress_after(plan, state, visits, day))


def _school_days(calendar: Calendar, start: date) -> Iterator[date]:
    if calendar.is_school_day(start):
        yield start
    yield from calendar.school_days_after(start)


# ---------------------------------------------------------------------------------------------- which rules count


def different_days(
    book: Book, rules_after: RuleSet, start: date
) -> Iterator[tuple[PlannedDay, frozenset[tuple[str, str, int]]]]:
    """The days from ``start`` on at which rules count otherwise, with grade, lesson and part of where they do."""
    before, after = _differing(book.rules, rules_after)
    for planned in planned_days(book.plan, book.opening(start), start):
        found: set[tuple[str, str, int]] = set()
        for visit in planned.visits:
            for step, facts in facts_on(book.plan, planned, visit):
                was = _counting(book.plan, before, facts, planned.date)
                if was != _counting(book.plan, after, facts, planned.date):
                    found.add((visit.grade, step.lesson, step.part))
        if found:
            yield planned, frozenset(found)


def uses_of(
    book: Book, rules: RuleSet, wanted: frozenset[str], start: date
) -> Iterator[tuple[PlannedDay, frozenset[str]]]:
    """The days from ``start`` on at which some of the wanted rules apply, and which."""
    rules = only(rules, wanted)
    for planned in planned_days(book.plan, book.opening(start), start):
        found: set[str] = set()
        for visit in planned.visits:
            for _, facts in facts_on(book.plan, planned, visit):
                found |= {rule for rule, _, _ in _counting(book.plan, rules, facts, planned.date)}
        if found & wanted:
            yield planned, frozenset(found & wanted)


def facts_on(plan: Plan, planned: PlannedDay, visit: Visit) -> Iterator[tuple[Step, VisitFacts]]:
    """The facts of a visit, with each part it may teach."""
    following = next((each for each in planned.visits if each.number == visit.number + 1), None)
    for step in visit.steps:
        yield step, facts_of(plan, planned.state, visit, step, planned.date, Surroundings(next_visit=following))


def _counting(plan: Plan, rules: RuleSet, facts: VisitFacts, day: date) -> frozenset[_Counts]:
    """What rules do about a visit, each with the supply it speaks of."""

    def marks_of(supply: str) -> frozenset[str]:
        return marks_of_supply(plan.supply_by_id[supply]) if supply in plan.supply_by_id else frozenset()

    effects = effects_for(rules, facts, date=day, marks_of=marks_of)
    return frozenset((each.rule.id, each.action, each.item) for each in effects)


def only(rules: RuleSet, wanted: frozenset[str]) -> RuleSet:
    """The wanted rules, with what they may rest on: rules that give tags, and those that bring supplies along."""
    asks_for_items = any("item" in sentence for rule in rules.rules if rule.id in wanted for sentence in rule.when)
    kept = {
        rule.id
        for rule in rules.rules
        if rule.id in wanted or rule.gives or (asks_for_items and (rule.add or rule.replace))
    }
    return structs.replace(rules, clauses={ident: each for ident, each in rules.clauses.items() if ident in kept})


def _differing(before: RuleSet, after: RuleSet) -> tuple[RuleSet, RuleSet]:
    """Both sets, narrowed to what they differ in."""
    wanted = different_rules(before, after)
    return only(before, wanted), only(after, wanted)


def different_rules(before: RuleSet, after: RuleSet) -> frozenset[str]:
    """Ids of the rules in which two sets differ, or in how these are switched off."""
    old: dict[str, Rule] = {each.id: each for each in before.rules}
    new: dict[str, Rule] = {each.id: each for each in after.rules}
    changed = {ident for ident in old.keys() | new.keys() if old.get(ident) != new.get(ident)}
    off: set[SwitchedOff] = {each for each in before.off if each not in after.off}
    off |= {each for each in after.off if each not in before.off}
    return frozenset(changed | {each.rule for each in off})
