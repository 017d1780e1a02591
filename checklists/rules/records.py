"""Rules as records: what they ask of a visit, and what they do. Read from TOML; no code is ever evaluated.

A condition is a short sentence (``checklists.rules.conditions`` has the whole grammar):

    "wet"                    the visit has the tag          "not sink"               it has not
    "grade at most 2"        a number of the visit          "gap_after below reset"  two numbers compared
    "need fine-motor"        the class has such a need      "avoid latex"            the class avoids it
    "item is powder"         a supply of the visit is so marked; all "item is …" of a rule speak of the same supply
    "some item is sharp"     any supply is                  "no item is sharp"       none is
    "lists scissors"         the part itself lists a supply so marked, before any rule added one

What a rule gives are tags ("wet") or marks of the item ("item is risky"); other rules may ask for them.

A threshold is a setting: a name with a number, told in a plain sentence and hers to change. Its name may stand where a
number may, in a condition ("grade at most pin_grade"), in an action (count = "towels_a_child"), and in braces in a
sentence. ``compile_rules`` puts the numbers in, so that what applies rules sees no names.
"""

# Without postponed annotations: msgspec would evaluate the text of each of them at every start.

from datetime import date
from typing import TYPE_CHECKING, Annotated, Literal

from msgspec import Meta, Struct, field

from checklists.plan.records import Amount, Group, Id, Minutes, Record, Spare, Text, Whole

RuleBasis = str
"""A plan basis ("student", "pair", "table", "class", "lesson"), "piece" (what is left to dry), or "need NAME"."""


# A number as a rule has it written: itself, or the name of a setting. Names are gone once a rule is compiled, and only
# compiled rules are computed with, so that is what the type checker is told.
if TYPE_CHECKING:
    Number = float
    WholeNumber = int
    MinutesNumber = int
    RuleSpare = Spare
else:
    SettingName = Annotated[str, Meta(min_length=1, max_length=60)]
    Number = Amount | SettingName
    WholeNumber = int | SettingName
    MinutesNumber = Minutes | SettingName

    class RuleSpare(Spare, frozen=True):
        """A spare as a rule has it written."""

        at_least: Whole | SettingName = 0
        percent: Annotated[float, Meta(ge=0, le=200)] | SettingName = 0


class Quantity(Record, frozen=True):
    """⌈(units of ``per`` × ``count`` + ``plus``) ÷ ``each_holds``⌉. Units of pairs and tables are rounded up first."""

    count: Number = 1
    per: RuleBasis = "class"
    plus: Number = 0
    each_holds: Number = 1


class Add(Quantity, frozen=True):
    """Have a supply along. Several rules adding the same supply to a visit: the largest counts."""

    supply: Id = ""
    group: Group | Literal[""] = ""
    """Empty: by the kind of supply."""
    critical: bool = False
    spare: RuleSpare | Literal["usual", "none"] = "none"
    into: Id = ""


class Replace(Quantity, frozen=True):
    """Take adapted or safer things in place of ordinary ones; the total stays. ``everything`` replaces all of them."""

    what: Id = ""
    """A mark ("scissors"), or "item" for the supply that the conditions speak of."""
    supply: Id = ""
    """What comes in its place."""
    everything: bool = False
    group: Group | Literal[""] = ""
    critical: bool = False


class Forbid(Record, frozen=True):
    """A supply must not come along; blocks until it is resolved."""

    what: Id = "item"
    instead: Id = ""


class Raise(Record, frozen=True):
    """Raise the spare of what is so marked (or of a kind), its quantity ``times``, or by so many ``sets``.

    ``what`` is a mark, "item", or "for each child": all that a part lists per student or per pair.
    """

    what: Id
    spare: RuleSpare | None = None
    times: Number = 1
    sets: Number = 0
    """So many times what one child, or one pair, gets; no spare is added for it. For a demonstration made afresh."""


class TaskFor(Record, frozen=True):
    """Preparation. ``minutes`` in all plus ``minutes_each`` a student."""

    what: Text
    minutes: MinutesNumber = 5
    minutes_each: Number = 0
    days_before: WholeNumber = 1
    """School days. A name with a minus before it, "-kiln_school_days", falls due after the visit."""
    after_days: WholeNumber = 0
    """Days after the visit that pass before school days are counted: clay dries over a weekend as well."""
    critical: bool = False

    @property
    def is_after(self) -> bool:
        """Whether it falls due after the visit."""
        return self.after_days > 0 or self.days_before < 0


class CheckFor(Record, frozen=True):
    """Something to see to: at the store before leaving, or in the room."""

    what: Text
    at: Literal["store", "room"] = "room"
    critical: bool = False


class NextPart(Record, frozen=True):
    """When the next part may be taught: not before so many days and then school days, not after so many days."""

    not_before_days: WholeNumber = 0
    not_before_school_days: WholeNumber = 0
    not_after_days: WholeNumber | None = None
    why: Text = ""


class Warn(Record, frozen=True):
    """A caution. ``critical``: unsafe as things are. ``stops``: the part is not taught so, another is offered.

    ``asks``: the part is packed, and she is asked whether to teach it in full, half of it, or something else.
    """

    text: Text
    critical: bool = False
    stops: bool = False
    asks: bool = False


ACTIONS = ("add", "replace", "forbid", "raises", "tasks", "checks", "next_part", "cautions")
"""Fields of a rule that hold what it does."""


class Rule(Record, frozen=True):
    id: Id
    title: Text
    when: tuple[Text, ...]
    because: Text
    """A plain sentence for why; may use {students} {tables} {grade} {class} {room} {minutes} {item} and the like."""
    gives: tuple[Text, ...] = ()
    add: tuple[Add, ...] = ()
    replace: tuple[Replace, ...] = ()
    forbid: tuple[Forbid, ...] = ()
    raises: tuple[Raise, ...] = ()
    tasks: tuple[TaskFor, ...] = ()
    checks: tuple[CheckFor, ...] = ()
    next_part: tuple[NextPart, ...] = ()
    cautions: tuple[Warn, ...] = ()
    safety: bool = False
    """Switching it off asks for a reason."""
    private: bool = False
    """Its reason tells of a child's need: never on a public page."""
    on: bool = True
    source: Text = "common practice, no source"


class SwitchedOff(Record, frozen=True):
    """A rule that does not apply: at all, for a class, for a lesson, until a date (included)."""

    rule: Id
    class_id: Id | Literal[""] = ""
    lesson: Id | Literal[""] = ""
    until: date | None = None
    reason: Text = ""
    since: date | None = None
    """When she switched it off, where the program wrote it down."""


class SwitchedOn(Record, frozen=True):
    """A rule that comes switched off and that she uses."""

    rule: Id


class RuleFile(Record, frozen=True):
    rules: tuple[Rule, ...] = ()
    off: tuple[SwitchedOff, ...] = ()
    on: tuple[SwitchedOn, ...] = ()
    settings: dict[Id, float | Literal["K", "PK"]] = field(default_factory=dict)
    """Name of a setting -> her number in place of the built-in one; a grade may be written as grades are."""


class Setting(Struct, frozen=True):
    """A threshold of the rules, as it stands for this school."""

    name: str
    value: float
    builtin: float
    """What it is where she says nothing."""
    meaning: str
    """In a plain sentence, units among it."""
    least: float
    most: float
    whole: bool = False
    source: str = "common practice, no source"


# -------------------------------------------------------------------------- what the rules know and what they say


class VisitFacts(Struct, frozen=True):
    """The given facts of one visit with one step (part)."""

    class_id: str
    lesson: str
    tags: frozenset[str]
    """Tags of the part and of the visit: "cutting", "sink", "first visit", "short period" …"""
    numbers: dict[str, float]
    """"grade", "students", "tables", "part", "minutes", "gap_before", "gap_after", "pieces" …"""
    needs: dict[str, int]
    avoid: frozenset[str]
    items: dict[str, frozenset[str]]
    """Supplies the part lists -> their marks, the kind and "sharp", "own", "teacher-only" … among them."""
    words: dict[str, str]
    """What sentences may name: "class", "room", "lesson" …"""


Action = Add | Replace | Forbid | Raise | TaskFor | CheckFor | NextPart | Warn


class Effect(Struct, frozen=True):
    """One action of one rule that applies to a visit."""

    rule: Rule
    action: Action
    item: str
    """Supply the conditions speak of; empty where they speak of none."""
    because: str
    """The rule's sentence, filled in."""
    text: str
    """The action's own text, filled in; empty where it has none."""
    facts: tuple[str, ...]
    """The chain of facts in words, the given ones first."""
