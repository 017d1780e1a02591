"""What the rules say of the visits of a date, each judged amid its surroundings: neighbours, drying, waiting times."""

from __future__ import annotations

from collections.abc import Container, Iterable, Iterator, Sequence
from datetime import date, timedelta
from functools import lru_cache

from msgspec import Struct, structs

from checklists.calendar import Calendar
from checklists.class_places import parts_done_before, progress_of, waiting_since
from checklists.daybook.state import State
from checklists.lines.facts import Surroundings, facts_of
from checklists.lines.in_the_room import avoided_in
from checklists.lines.records import Step, Visit
from checklists.plan.records import Plan, Wait
from checklists.rules.apply import effects_for, tags_for
from checklists.rules.by_part import may_ask
from checklists.rules.read import RuleSet, narrowed_to
from checklists.rules.records import Effect, NextPart, VisitFacts, Warn
from checklists.rules.vocabulary import marks_of_supply
from checklists.visits import next_visit_of, steps_for, visits_that_go_on

TOO_EARLY = "too early"
"""The tag of a visit whose part has to wait: something must dry, or be fired."""


class Judged(Struct, frozen=True):
    """A visit with what the rules say of each part it may teach."""

    visit: Visit
    by_step: tuple[tuple[Step, tuple[Effect, ...]], ...]
    amid: tuple[Surroundings, ...] = ()
    """Amid what each part was judged."""

    @property
    def stopped(self) -> tuple[tuple[Step, Effect], ...]:
        """What says that the part cannot be taught as things are."""
        return tuple((step, effect) for step, effect in self._warnings if _warning(effect).stops)

    @property
    def asked(self) -> tuple[tuple[Step, Effect], ...]:
        """What asks how the class's own part is to be taught, where she has not chosen yet."""
        if not self.visit.moves_on or self.visit.insisted or self.visit.split:
            return ()
        return tuple((step, effect) for step, effect in self._warnings if _warning(effect).asks)

    @property
    def cautions(self) -> tuple[tuple[Step, Effect], ...]:
        """What warns only. What she has chosen with open eyes is not said once more."""
        chosen = self.visit.moves_on or self.visit.instead == "chosen"
        return tuple(
            (step, effect)
            for step, effect in self._warnings
            if not _warning(effect).stops and not (_warning(effect).asks and chosen)
        )

    @property
    def _warnings(self) -> Iterator[tuple[Step, Effect]]:
        return (
            (step, effect) for step, effects in self.by_step for effect in effects if isinstance(effect.action, Warn)
        )


def _warning(effect: Effect) -> Warn:
    assert isinstance(effect.action, Warn)
    return effect.action


class Limits(Struct, frozen=True):
    """Between which dates the next part may be taught."""

    not_before: date | None = None
    not_after: date | None = None


class Reasoning:
    """The rules at work on one opening state. Remembers what it worked out; asks nothing of clock or disk."""

    def __init__(self, plan: Plan, rules: RuleSet, state: State, calendar: Calendar, *, no_mess: bool = False) -> None:
        self.plan = plan
        self.rules = rules
        self.state = state
        self.calendar = calendar
        self.no_mess = no_mess
        self._limits_known: dict[tuple[Visit, Step, date], Limits] = {}

    def judge(self, day: date, visits: Sequence[Visit], *, only: Container[str] | None = None) -> tuple[Judged, ...]:
        """The effects of the rules on each visit of a day, in time order; or on those alone whose keys are in ``only``.

        Where a part comes too early the filler is judged, with what is to be said of the part that has to wait.
        """
        drying = self.plan.school.cart.wet_sheets
        judged: list[Judged] = []
        visits = self.placed(day, visits)
        for at, visit in enumerate(visits):
            following = visits[at + 1] if at + 1 < len(visits) else None
            if only is not None and visit.key not in only:
                riding = (self._wet_on_cart(day, visit, step, Surroundings()) for step in visit.steps)
                drying = max(0, drying - max(riding, default=0))
                continue
            waiting = self._of_waiting(day, visit, visit.waiting, following, drying) if visit.waiting else ()
            by_step: list[tuple[Step, tuple[Effect, ...]]] = []
            amid: list[Surroundings] = []
            wet = 0
            for step in visit.steps:
                effects, around = self._effects(day, visit, step, following, drying)
                by_step.append((step, (*waiting, *effects)))
                amid.append(around)
                wet = max(wet, self._wet_on_cart(day, visit, step, around))
            drying = max(0, drying - wet)
            judged.append(Judged(visit, tuple(by_step), tuple(amid)))
        return tuple(judged)

    def placed(self, day: date, visits: Sequence[Visit]) -> tuple[Visit, ...]:
        """The visits of a day, the filler in those whose part may not be taught yet; the class stays where it is."""
        filler = self.plan.school.habits.filler
        if filler not in self.plan.lesson_by_id:
            return tuple(visits)
        placed: list[Visit] = []
        today: dict[str, Step] = {}
        for visit in visits:
            if (
                visit.moves_on
                and not visit.next_part
                and any(each.class_id == visit.class_id and not each.moves_on for each in placed)
            ):
                class_ = self.plan.class_by_id[visit.class_id]
                before = visits_that_go_on(placed, class_.id)
                visit = structs.replace(visit, steps=steps_for(self.plan, self.state, class_, day, before))
            if self._is_too_early(day, visit, filler, today.get(visit.class_id)):
                waiting = visit.steps[0]
                visit = structs.replace(visit, steps=(Step(filler, 1),), instead="too early", waiting=waiting)
            elif visit.steps and visit.moves_on:
                today[visit.class_id] = visit.steps[-1]
            placed.append(visit)
        return tuple(placed)

    def _is_too_early(self, day: date, visit: Visit, filler: str, done_today: Step | None) -> bool:
        if len(visit.steps) != 1 or not visit.moves_on or visit.insisted or visit.steps[0].lesson == filler:
            return False
        step = visit.steps[0]
        if done_today is not None and step.lesson == done_today.lesson and step != done_today:
            limits = self.limits_after(visit, done_today, day)
        else:
            limits = self._limits_before(visit, step)
        return limits.not_before is not None and day < limits.not_before

    def _of_waiting(
        self, day: date, visit: Visit, step: Step, following: Visit | None, drying: int
    ) -> tuple[Effect, ...]:
        """What rules say of the class's own part because it comes too early."""
        effects, _ = self._effects(day, visit, step, following, drying)
        return tuple(effect for effect in effects if TOO_EARLY in effect.rule.when)

    def _effects(
        self, day: date, visit: Visit, step: Step, following: Visit | None, drying: int
    ) -> tuple[tuple[Effect, ...], Surroundings]:
        """Effects of one step, and amid what it was judged."""
        before = self._limits_before(visit, step)
        next_date = next_visit_of(self.plan, self.calendar, visit.class_id, day, self.state)
        around = Surroundings(
            no_mess=self.no_mess,
            next_visit=following,
            drying_on_cart=drying,
            not_before=before.not_before,
            not_after=before.not_after,
            next_date=next_date,
        )
        effects = self._apply(self.rules, day, visit, step, around)
        limits = self._limits(self.plan.lesson_by_id[step.lesson].parts[step.part - 1].wait, effects, day)
        done = {step.part, *parts_done_before(visit, step)}
        is_over = all(n in done for n in range(1, len(self.plan.lesson_by_id[step.lesson].parts) + 1))
        if not is_over and next_date is not None and _outside(next_date, limits):
            around = structs.replace(around, next_not_before=limits.not_before, next_not_after=limits.not_after)
            effects = self._apply(self.rules, day, visit, step, around)
        return effects, around

    def tasks_of(self, day: date, visits: Sequence[Visit]) -> Iterator[tuple[Visit, Step, tuple[Effect, ...]]]:
        """Only the tasks that rules ask for on a day, without asking when parts may follow one another."""
        for at, visit in enumerate(visits):
            following = visits[at + 1] if at + 1 < len(visits) else None
            for step in visit.steps:
                tags = frozenset(self.plan.lesson_by_id[step.lesson].parts[step.part - 1].tags)
                asked = may_ask(self.rules, "tasks before", tags)
                yield visit, step, self.tasks_of_step(day, visit, step, following) if asked else ()

    def tasks_of_step(self, day: date, visit: Visit, step: Step, following: Visit | None = None) -> tuple[Effect, ...]:
        """Only the tasks that rules ask for where one part is taught in a visit."""
        rules = narrowed_to(self.rules, "tasks")
        return self._apply(rules, day, visit, step, Surroundings(next_visit=following))

    def safety_of(
        self, day: date, visit: Visit, step: Step, supplies: Iterable[str], *, only_forbidden: bool = False
    ) -> tuple[Effect, ...]:
        """What rules replace or forbid of supplies that are along in a visit without being on its part's list.

        ``step`` is the part they belong to.
        """
        marks = {each: self._marks_of(each) for each in supplies}
        watched = {*avoided_in(self.plan, visit), *_marks_watched(self.rules, only_forbidden)}
        if all(watched.isdisjoint((*held, supply)) for supply, held in marks.items()):
            return ()
        facts = facts_of(self.plan, self.state, visit, step, day, Surroundings())
        rules = narrowed_to(self.rules, "forbid") if only_forbidden else narrowed_to(self.rules, "replace", "forbid")
        facts = structs.replace(facts, items=marks)
        return self._effects_of(rules, facts, day)

    def _apply(self, rules: RuleSet, day: date, visit: Visit, step: Step, around: Surroundings) -> tuple[Effect, ...]:
        return self._effects_of(rules, facts_of(self.plan, self.state, visit, step, day, around), day)

    def _effects_of(self, rules: RuleSet, facts: VisitFacts, day: date) -> tuple[Effect, ...]:
        return effects_for(
            rules,
            facts,
            date=day,
            marks_of=self._marks_of,
            name_of=self.plan.name_of_supply,
            instead_of=self._instead_of,
        )

    def _instead_of(self, supply: str) -> str:
        known = self.plan.supply_by_id.get(supply)
        return known.instead or "" if known is not None else ""

    def _marks_of(self, supply: str) -> frozenset[str]:
        known = self.plan.supply_by_id.get(supply)
        return marks_of_supply(known) if known is not None else frozenset()

    def _wet_on_cart(self, day: date, visit: Visit, step: Step, around: Surroundings) -> int:
        """Wet pieces beyond what the room can dry: they ride."""
        part = self.plan.lesson_by_id[step.lesson].parts[step.part - 1]
        room = self.plan.room_by_id.get(visit.room)
        places = room.drying_places if room is not None else None
        riding = 0 if places is None else round(visit.students * part.pieces_each) - places
        if riding <= 0 or not part.tags:
            return 0
        facts = facts_of(self.plan, self.state, visit, step, day, around)
        return (
            riding
            if "wet" in tags_for(narrowed_to(self.rules, "gives"), facts, date=day, marks_of=self._marks_of)
            else 0
        )

    def _limits_before(self, visit: Visit, step: Step) -> Limits:
        """Between which dates this part may be taught, by what was done in the parts before it."""
        class_ = self.plan.class_by_id[visit.class_id]
        progress = progress_of(self.plan, self.state, class_)
        if progress is None or (progress.lesson, progress.part) != (step.lesson, visit.next_part or step.part):
            return Limits()
        before = [
            self.limits_after(visit, Step(step.lesson, part), taught_on)
            for part, taught_on in waiting_since(progress)
            if part <= len(self.plan.lesson_by_id[step.lesson].parts)
        ]
        return Limits(
            max((each.not_before for each in before if each.not_before is not None), default=None),
            min((each.not_after for each in before if each.not_after is not None), default=None),
        )

    def limits_after(self, visit: Visit, step: Step, taught_on: date) -> Limits:
        """Between which dates the part after one that was taught on a date may be taught."""
        known = self._limits_known.get((visit, step, taught_on))
        if known is None:
            part = self.plan.lesson_by_id[step.lesson].parts[step.part - 1]
            rules = narrowed_to(self.rules, "next_part")
            asked = may_ask(self.rules, "next part", frozenset(part.tags))
            effects = self._apply(rules, taught_on, visit, step, Surroundings()) if asked else ()
            known = self._limits_known[visit, step, taught_on] = self._limits(part.wait, effects, taught_on)
        return known

    def _limits(self, wait: Wait | None, effects: Sequence[Effect], taught: date) -> Limits:
        """The latest "not before" and the earliest "not after" of a part's own wait and of what rules say."""
        earliest: date | None = None
        latest: date | None = None
        waits = [(wait.days, wait.then_school_days, wait.at_most_days)] if wait is not None else []
        waits += [
            (each.action.not_before_days, each.action.not_before_school_days, each.action.not_after_days)
            for each in effects
            if isinstance(each.action, NextPart)
        ]
        for days, school_days, at_most in waits:
            if days or school_days:
                start = self.calendar.add_school_days(taught + timedelta(days), 0)
                ready = self.calendar.add_school_days(start, school_days) if start is not None else None
                if ready is not None:
                    earliest = ready if earliest is None else max(earliest, ready)
            if at_most is not None:
                end = taught + timedelta(at_most)
                latest = end if latest is None else min(latest, end)
        return Limits(earliest, latest)


@lru_cache(maxsize=8)
def _marks_watched(rules: RuleSet, only_forbidden: bool) -> frozenset[str]:
    """Marks of which a rule that forbids, or replaces everything, speaks."""
    watching = [rule for rule in rules.rules if rule.forbid]
    if not only_forbidden:
        watching += [rule for rule in rules.rules if any(each.everything for each in rule.replace)]
    asked = (" ".join(sentence.split()) for rule in watching for sentence in rule.when)
    spoken_of = {each.removeprefix("item is ") for each in asked if each.startswith("item is ")}
    spoken_of.update(each.what for rule in watching for each in rule.forbid)
    return frozenset(spoken_of.union(each.what for rule in watching for each in rule.replace))


def _outside(day: date, limits: Limits) -> bool:
    too_early = limits.not_before is not None and day < limits.not_before
    return too_early or (limits.not_after is not None and day > limits.not_after)
