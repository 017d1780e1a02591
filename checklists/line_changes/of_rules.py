"""What may be wrong with what a rule adds: switched off for a class, in a lesson, or everywhere."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from checklists.line_changes.listed import visits_of
from checklists.line_changes.records import LineChange, Offer, Way, leads
from checklists.lines.records import Day, Line
from checklists.plan.class_notes import CannotNote
from checklists.plan.plan_files import PlanFiles
from checklists.plan.records import Plan
from checklists.rules.read import RuleSet
from checklists.rules.records import Rule
from checklists.rules.switching import SAFETY, CannotSwitch, say_scope, switched_off
from checklists.words import join_words

FOR_CLASS, IN_LESSON = "class ", "lesson "
"""How the keys of the ways begin; an id follows. Empty: everywhere."""


def rule_offers(plan: Plan, rules: RuleSet, day: Day, line: Line, today: date) -> Iterator[Offer]:
    """One for each rule behind the line; what tells of a child's need leads to the notes of the class instead."""
    by_id = {rule.id: rule for rule in rules.rules}
    private: dict[str, None] = {}
    done: set[str] = set()
    for why in line.because:
        rule = by_id.get(why.rule)
        if rule is None or rule.id in done:
            continue
        done.add(rule.id)
        if why.private:
            private |= dict.fromkeys(visit.class_id for visit in visits_of(day, line) if visit.key in why.visits)
        else:
            yield _rule_offer(plan, rule, day, line, today)
    for class_id in private:
        yield notes_offer(class_id)


def notes_offer(class_id: str) -> Offer:
    """The notes of a class; the same words whether the line tells of a need or not."""
    label = f"notes about {class_id}: needs, what it avoids, what it has"
    return leads(f"notes {class_id}", label, f"every visit of {class_id}", "class notes", class_id)


def _rule_offer(plan: Plan, rule: Rule, day: Day, line: Line, today: date) -> Offer:
    visits = [visit for visit in visits_of(day, line) if any(visit.key in each.visits for each in line.because)]
    classes = dict.fromkeys(visit.class_id for visit in visits)
    lessons = dict.fromkeys(step.lesson for visit in visits for step in visit.steps)
    scopes = {f"{FOR_CLASS}{each}": f"not for {each}" for each in classes}
    scopes |= {f"{IN_LESSON}{each}": f"not in {plan.title_of_lesson(each)}" for each in lessons}
    scopes[""] = "nowhere any more"

    def make(files: PlanFiles, typed: str, reason: str) -> LineChange:
        if typed not in scopes:
            raise CannotNote(f"It can be switched off {join_words(scopes.values(), 'or')}.")
        class_id = typed.removeprefix(FOR_CLASS) if typed.startswith(FOR_CLASS) else ""
        lesson = typed.removeprefix(IN_LESSON) if typed.startswith(IN_LESSON) else ""
        try:
            off = switched_off(rule, class_id=class_id, lesson=lesson, reason=reason, since=today)
        except CannotSwitch as problem:
            raise CannotNote(str(problem)) from None
        return LineChange(f"{rule.title}: off {say_scope(off, plan)}", off=off)

    caution = SAFETY if rule.safety else ""
    ways = tuple(Way(key, label, rule.safety, caution) for key, label in scopes.items())
    return Offer(f"rule {rule.id}", f"not by rule: {rule.title}", "this rule alone", "choice", make, ways=ways)
