"""What looks wrong about the rules though it can be used: notes of `trundle check`, never grave.

A rule that can never apply, because its conditions contradict each other or ask for what nothing gives; a rule of her
own that changes nothing in the plan's year, gone through once as planned; and a switching off whose last day is over.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from msgspec import structs

from checklists.book import Book
from checklists.files.plan_folder import RULES, compiled_rules
from checklists.files.rule_file import without_rule
from checklists.lines.day import day_on
from checklists.own_rules.preview import differs
from checklists.own_rules.year import uses_of
from checklists.plan.records import Plan, grade_number
from checklists.problems import Problem
from checklists.rules.clauses import actions_of
from checklists.rules.conditions import CLASS_IS, LESSON_IS, comparison_from
from checklists.rules.read import RuleSet
from checklists.rules.records import Rule
from checklists.rules.vocabulary import marks_of_supply
from checklists.words import say_full_date

MOST_DAYS_TRIED = 30
"""Days on which a rule is tried for a difference before it is said to make none. Common practice, no source."""


def doubts_about(book: Book, today: date | None = None) -> tuple[Problem, ...]:
    """The notes about her own rules and what she switched off."""
    start = book.today if today is None else today
    own = [each for each in book.rules.rules if each.on and each.id in {rule.id for rule in book.own_rules.rules}]
    never = {each.id: why for each in own if (why := why_never(each, book.plan, book.rules))}
    found = [
        _note(f"rule {ident}", f"It can never apply: {why}", "Change its conditions.") for ident, why in never.items()
    ]
    rest = frozenset(each.id for each in own if each.id not in never and not _is_off_everywhere(book, each))
    found += [_note(f"rule {ident}", *_SAID_IDLE[is_used]) for ident, is_used in _idle(book, rest)]
    found += _over(book, start)
    return tuple(found)


_SAID_IDLE = {
    False: (
        "It applies to no visit of the year as it is planned.",
        "Look at its conditions, or take it out: trundle rule remove.",
    ),
    True: (
        "It changes no list of the year as it is planned: what it asks for is there anyway.",
        "Look at its number, or take it out: trundle rule remove.",
    ),
}
"""Whether it applies at all -> what is said and what to do."""


def _note(entry: str, what: str, to_do: str) -> Problem:
    return Problem(RULES, entry, what, to_do, level="note")


def _is_off_everywhere(book: Book, rule: Rule) -> bool:
    return any(
        each.rule == rule.id and not each.class_id and not each.lesson and each.until is None for each in book.rules.off
    )


def _over(book: Book, today: date) -> list[Problem]:
    return [
        _note(
            f"off {each.rule}",
            f"It was switched off until {say_full_date(each.until)} and applies again.",
            f"Nothing needs doing; trundle rule on {each.rule} tidies it away.",
        )
        for each in book.own_rules.off
        if each.until is not None and each.until < today
    ]


# ------------------------------------------------------------------------------------------ what can never apply


def why_never(rule: Rule, plan: Plan, rules: RuleSet) -> str:
    """Why a rule can never apply in this plan; empty where it may."""
    sentences = [" ".join(each.split()) for each in rule.when]
    asked = {each for each in sentences if not each.startswith("not ")}
    for each in sentences:
        if each.startswith("not ") and each.removeprefix("not ") in asked:
            return f'"{each.removeprefix("not ")}" and "{each}" contradict each other.'
        if each.startswith("no item is ") and each.replace("no item", "some item", 1) in asked:
            return f'"{each}" and its contrary are both asked for.'
    return _two_at_once(asked) or _numbers_apart(asked) or _nothing_gives(asked, plan, rules)


def _two_at_once(asked: set[str]) -> str:
    for start, of in ((CLASS_IS, "class"), (LESSON_IS, "lesson")):
        named = sorted(each.removeprefix(start) for each in asked if each.startswith(start))
        if len(named) > 1:
            return f"no {of} is both {named[0]} and {named[1]}."
    return ""


def _numbers_apart(asked: set[str]) -> str:
    """Comparisons of one number with fixed ones that leave no number over."""
    ranges: dict[str, tuple[float, float, str]] = {}
    for sentence in sorted(asked):
        made = comparison_from(sentence)
        if made is None or isinstance(made.other, str):
            continue
        least, most = float("-inf"), float("inf")
        step = 1 if made.number == "grade" else 1e-6
        match made.relation:
            case "is":
                least = most = made.other
            case "at least":
                least = made.other
            case "at most":
                most = made.other
            case "above":
                least = made.other + step
            case "below":
                most = made.other - step
        known_least, known_most, before = ranges.get(made.number, (float("-inf"), float("inf"), ""))
        least, most = max(least, known_least), min(most, known_most)
        if least > most:
            return f'"{before}" and "{sentence}" contradict each other.'
        ranges[made.number] = least, most, sentence
    return ""


def _nothing_gives(asked: set[str], plan: Plan, rules: RuleSet) -> str:
    """A tag, mark, need or grade that nothing in plan or rules gives."""
    tags = {tag for lesson in plan.lessons for part in lesson.parts for tag in part.tags}
    given = {" ".join(each.split()) for rule in rules.rules if rule.on for each in rule.gives}
    marks = {mark for each in plan.supplies for mark in (*marks_of_supply(each), each.id)}
    marks |= {each.removeprefix("item is ") for each in given if each.startswith("item is ")}
    needs = {need.need for each in plan.classes for need in each.needs}
    avoided = {word for each in plan.classes for word in each.avoid}
    for sentence in sorted(asked):
        if sentence.startswith(("item is not ", "no item is ")) or sentence == "avoid item":
            continue
        for start, known, what in (
            ("need ", needs, "no class has the need"),
            ("avoid ", avoided, "no class avoids"),
            ("some item is ", marks, "no supply is"),
            ("item is ", marks, "no supply is"),
            ("lists ", marks, "no supply is"),
        ):
            if sentence.startswith(start):
                word = sentence.removeprefix(start)
                if word not in known:
                    return f"{what} {word}."
                break
        else:
            if sentence in rules.vocabulary.visit or sentence.startswith((CLASS_IS, LESSON_IS)):
                continue
            if sentence in rules.vocabulary.part or sentence in rules.vocabulary.given or not _compares(sentence):
                if sentence not in tags and sentence not in given:
                    return f'no part is tagged "{sentence}", and no rule gives that.'
            elif why := _no_such_grade(sentence, plan):
                return why
    return ""


def _compares(sentence: str) -> bool:
    return comparison_from(sentence) is not None


def _no_such_grade(sentence: str, plan: Plan) -> str:
    made = comparison_from(sentence)
    if made is None or made.number != "grade":
        return ""
    if any(made.holds({"grade": float(grade_number(each.grade))}) for each in plan.classes):
        return ""
    return f'no class is of such a grade ("{sentence}").'


# -------------------------------------------------------------------------------------- what changes nothing


def _idle(book: Book, wanted: frozenset[str]) -> Iterator[tuple[str, bool]]:
    """Rules of her own that change no list of the year as it is planned, and whether they apply to any visit."""
    if not wanted:
        return
    tried = dict.fromkeys(sorted(wanted), 0)
    open_yet = set(wanted)
    own = book.own_rules
    own = structs.replace(own, off=tuple(each for each in own.off if each.rule not in wanted))
    rules = compiled_rules(book.plan, own)[0]
    without = {each: compiled_rules(book.plan, without_rule(own, each))[0] for each in tried}
    for planned, using in uses_of(book, rules, wanted, book.plan.school.first_day):
        for each in sorted(using & open_yet):
            if tried[each] < MOST_DAYS_TRIED:
                tried[each] += 1
                with_it = day_on(book.plan, rules, planned.state, planned.date)
                if differs(day_on(book.plan, without[each], planned.state, planned.date), with_it):
                    open_yet.discard(each)
        if not open_yet:
            return
    for each in sorted(open_yet):
        if book.own_rules.rules and not _gives_only(book, each):
            yield each, tried[each] > 0


def _gives_only(book: Book, ident: str) -> bool:
    """A rule that only gives a tag does nothing by itself; others rest on it."""
    rule = next((each for each in book.rules.rules if each.id == ident), None)
    return rule is None or not actions_of(rule)
