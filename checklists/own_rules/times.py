"""When a rule of her own counts: the times that fit a visit, in her words and as the sentences of a rule."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from msgspec import Struct

from checklists.daybook.state import State
from checklists.lines.facts import Surroundings, facts_of
from checklists.lines.records import Day, Step, Visit
from checklists.plan.records import Plan, grade_number
from checklists.rules.apply import tags_for
from checklists.rules.conditions import CLASS_IS, LESSON_IS, comparison_from
from checklists.rules.read import RuleSet, narrowed_to
from checklists.rules.vocabulary import Vocabulary, fill, marks_of_supply
from checklists.words import join_words, say_number

_OFFERED_VISIT_TAGS = ("no sink", "carpet", "no projector", "single desks", "first part", "last part", "one adult")
"""Of the facts of a visit those that a rule about a supply is likely to turn on. Common practice, no source."""
_GRADES = {-1: "pre-kindergarten", 0: "kindergarten"}


class When(Struct, frozen=True):
    """A time at which a rule counts; without sentences it is every visit."""

    label: str
    """ "when a part is tagged wet"."""
    sentences: tuple[str, ...] = ()


def times_for(plan: Plan, rules: RuleSet, day: Day, visits: Iterable[str]) -> tuple[When, ...]:
    """The times that fit these visits of a day, each once, what fits all of them first, every visit last."""
    keys = set(visits)
    found: dict[tuple[str, ...], int] = {}
    for visit in day.visits:
        for time in dict.fromkeys(_times_of(plan, rules, day, visit)) if visit.key in keys else ():
            found[time] = found.get(time, 0) + 1
    first = {*rules.vocabulary.media, *rules.vocabulary.given}
    order = sorted(
        found, key=lambda time: (-found[time], _rank(time, first))
    )  # stable: else in the order of the visits
    return tuple(When(words_for(sentences, plan, rules), sentences) for sentences in [*order, ()])


def _times_of(plan: Plan, rules: RuleSet, day: Day, visit: Visit) -> Iterator[tuple[str, ...]]:
    for step in visit.steps:
        for tag in _tags(plan, rules, day, visit, step):
            yield (tag,)
        yield (f"{LESSON_IS}{step.lesson}",)
        if len(plan.lesson_by_id[step.lesson].parts) > 1:
            yield (f"{LESSON_IS}{step.lesson}", f"part is {step.part}")
    yield (f"{CLASS_IS}{visit.class_id}",)
    yield (f"grade is {visit.grade}",)
    if grade_number(visit.grade) > 0:
        yield (f"grade at most {visit.grade}",)


def _tags(plan: Plan, rules: RuleSet, day: Day, visit: Visit, step: Step) -> list[str]:
    """Tags of a part and of a visit, those that rules give included; private ones and passing ones left out."""
    facts = facts_of(plan, State(), visit, step, day.date, Surroundings())

    def marks_of(supply: str) -> frozenset[str]:
        return marks_of_supply(plan.supply_by_id[supply]) if supply in plan.supply_by_id else frozenset()

    every = tags_for(narrowed_to(rules, "gives"), facts, date=day.date, marks_of=marks_of)
    part = plan.lesson_by_id[step.lesson].parts[step.part - 1]
    private = {" ".join(given.split()) for rule in rules.rules if rule.private for given in rule.gives}
    of_visit = set(rules.vocabulary.visit) - set(_OFFERED_VISIT_TAGS)
    given = sorted(every - set(part.tags) - of_visit - private)
    return [*part.tags, *given]


def _rank(sentences: tuple[str, ...], first: set[str]) -> int:
    """What most likely is meant first: the medium and what follows from it, the lesson, other tags, class, grade."""
    start = sentences[0]
    if start.startswith(LESSON_IS):
        return 1 if len(sentences) == 1 else 4
    if start.startswith(CLASS_IS):
        return 3
    if start.startswith("grade "):
        return 5
    return 0 if start in first else 2


def words_for(sentences: tuple[str, ...], plan: Plan, rules: RuleSet) -> str:
    """The conditions of a rule in words: "when a part is tagged wet and for class 3-B", "in every visit"."""
    return join_words(_say(" ".join(each.split()), plan, rules.vocabulary) for each in sentences) or "in every visit"


def _say(sentence: str, plan: Plan, vocabulary: Vocabulary) -> str:
    denied = sentence.startswith("not ")
    plain = sentence.removeprefix("not ")
    if plain.startswith(CLASS_IS):
        return f"{'but not ' if denied else ''}for class {plain.removeprefix(CLASS_IS)}"
    if plain.startswith(LESSON_IS):
        title = plan.title_of_lesson(plain.removeprefix(LESSON_IS))
        return f"{'but not ' if denied else ''}for the lesson {title}"
    if sentence in vocabulary.visit or plain in vocabulary.visit:
        said = vocabulary.visit[plain][1 if denied else 0]
        return f"when {fill(said, lambda blank: 'the class' if blank == 'class' else f'the {blank}')}"
    if plain.startswith("need "):
        need = vocabulary.needs.get(plain.removeprefix("need "), plain.removeprefix("need "))
        return f"when {'no' if denied else 'a'} child has a need: {need}"
    if plain.startswith("avoid ") and plain != "avoid item":
        word = vocabulary.avoid.get(plain.removeprefix("avoid "), plain.removeprefix("avoid "))
        return f"when the class {'does not avoid' if denied else 'avoids'} {word}"
    if said := _say_supply(plain, denied, plan, vocabulary):
        return said
    if said := _say_number(plain, vocabulary):
        return said
    return f"when a part is {'not ' if denied else ''}tagged {plain}"


def _say_supply(plain: str, denied: bool, plan: Plan, vocabulary: Vocabulary) -> str:
    """Conditions about supplies of the visit."""
    starts = {
        "some item is ": "when something is along that is: {}",
        "no item is ": "when nothing is along that is: {}",
        "item is not ": "for what is not: {}",
        "item is ": "for what is: {}",
        "lists ": "when the part itself does not list: {}" if denied else "when the part itself lists: {}",
    }
    for start, said in starts.items():
        if plain.startswith(start):
            mark = plain.removeprefix(start)
            supply = plan.supply_by_id.get(mark)
            return said.format(vocabulary.marks.get(mark, mark if supply is None else supply.name))
    return "for what the class avoids" if plain == "avoid item" else ""


def _say_number(sentence: str, vocabulary: Vocabulary) -> str:
    made = comparison_from(sentence)
    if made is None or made.number not in vocabulary.numbers:
        return ""
    other = vocabulary.numbers.get(made.other, made.other) if isinstance(made.other, str) else say_number(made.other)
    if made.number == "grade" and not isinstance(made.other, str):
        grade = _GRADES.get(int(made.other), f"grade {other}")
        return {
            "is": f"for {grade}",
            "at most": f"up to {grade}",
            "at least": f"from {grade} on",
            "below": f"below {grade}",
            "above": f"above {grade}",
        }[made.relation]
    if made.number == "part" and not isinstance(made.other, str):
        return {
            "is": f"in part {other}",
            "at most": f"up to part {other}",
            "at least": f"from part {other} on",
            "below": f"before part {other}",
            "above": f"after part {other}",
        }[made.relation]
    relation = {"is": "", "below": "less than ", "above": "more than "}.get(made.relation, f"{made.relation} ")
    name = vocabulary.numbers[made.number]
    if isinstance(made.other, str):
        return f"with {name} {relation or 'equal to '}{other}"
    return f"with {relation}{other} {name}"


def grade_sentence(typed: str) -> str:
    """A condition from "3", "K", "at most 1", "up to 1", "from 3", "3 and up". Raises ValueError in words."""
    words = typed.strip().casefold()
    for start, relation in (
        ("at most ", "at most"),
        ("up to ", "at most"),
        ("at least ", "at least"),
        ("from ", "at least"),
    ):
        if words.startswith(start):
            return f"grade {relation} {_grade(words.removeprefix(start))}"
    for end, relation in (
        (" and up", "at least"),
        ("+", "at least"),
        (" and below", "at most"),
        (" and down", "at most"),
    ):
        if words.endswith(end):
            return f"grade {relation} {_grade(words.removesuffix(end))}"
    return f"grade is {_grade(words)}"


def _grade(typed: str) -> str:
    grade = typed.strip().upper()
    if grade not in ("PK", "K", *"12345678"):
        raise ValueError('is no grade; write PK, K or 1 to 8, or "up to 1"')
    return grade
