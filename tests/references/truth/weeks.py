"""Weeks lived by chance: the same is said to the book and to the model, and both must know the same after every step.

``python -m tests.references.truth.weeks FIRST LAST`` goes through schools of these seeds and tells every disagreement.
"""

from __future__ import annotations

import sys
from datetime import date, datetime, time, timedelta
from pathlib import Path
from random import Random
from shutil import copytree
from tempfile import TemporaryDirectory
from typing import Any

from checklists.book import Book
from checklists.class_places import progress_of
from checklists.daybook import entries as book_of
from checklists.daybook.state import State
from tests.days import after_the_battery_died, opened, opened_again
from tests.references.truth.model import Truth, case_of, changes_of, place_of, said, stands_in
from tests.references.truth.school import Table, draw_school, write_school

DAYS = 180
CORRECTED_WITHIN = 12
"""School days back to which answers are still given."""
UNDONE_WITHIN = 14
"""Days back to which an undo reaches."""


class Disagreement(AssertionError):  # noqa: N818 - it says what it is
    """Where the book and the model know different things, after what."""


class Weeks:
    """One school, one book, one model, and chance."""

    def __init__(self, folder: Path, seed: int) -> None:
        self.chance = Random(seed)
        self.folder = folder
        self.school = draw_school(seed)
        self.truth = Truth(self.school)
        self.today = self.truth.days[0]
        self.book = opened(write_school(folder / "school", self.school), self.today)
        self.clock = datetime.combine(self.today, time(6, 30))
        self.steps: dict[date, list[tuple[datetime, list[Table] | None]]] = {day: [] for day in self.truth.days}
        """Day -> its steps: when made, what was said; None: it was closed."""
        self.newest: tuple[str, date] = ("", self.today)
        self.copies = 0
        self.done: list[str] = []

    # ------------------------------------------------------------------------------------------- one step at a time

    def say(self, day: date, *words: Table) -> None:
        self.clock += timedelta(seconds=7)
        told = [{"at": self.clock, **word} for word in words]
        self.note("say", day, *told)
        self.book.do(day, *(as_entry(word) for word in told))
        self.truth.words[day] += told
        self.truth.changed(day)
        self.steps[day].append((self.clock, told))
        self.newest = "say", day

    def undo(self) -> None:
        near = [day for day in self.truth.days if timedelta(0) < self.today - day <= timedelta(UNDONE_WITHIN)]
        told_since = [day for day in near if self.steps[day] and self.steps[day][-1][0].date() >= self.today]
        days = [day for day in (self.today, *told_since) if self.steps[day]]
        day = max(days, key=lambda each: self.steps[each][-1][0], default=None)
        self.note("undo", day or self.today)
        undone = self.book.undo(self.today)
        if (undone is None) != (day is None):
            raise Disagreement(f"undo said {undone!r}, the model takes back a step of {day}")
        if day is None:
            return
        _, words = self.steps[day].pop()
        if words is not None:
            del self.truth.words[day][-len(words) :]
            self.truth.changed(day)
        elif undone is None or not undone.endswith("is open again"):
            raise Disagreement(f"undo said {undone!r}, the model opens {day} again")
        self.newest = "undo", day
        self.compare(day)

    def close(self, day: date) -> None:
        self.clock += timedelta(seconds=7)
        self.note("close", day)
        self.book.close(day, self.clock)
        self.steps[day].append((self.clock, None))
        self.newest = "close", day
        self.compare(day)

    def start_again(self) -> None:
        """Closed properly; the battery gone; or gone in the middle of writing the last line."""
        how = self.chance.choice(["closed", "battery", "torn"])
        self.note(how, self.today)
        if how == "closed":
            self.book = opened_again(self.book, self.today)
        else:
            self.copies += 1
            into = self.folder / f"copy-{self.copies}"
            if how == "torn" and self.cut_off(into):
                self.book = opened(into, self.today)
            else:
                self.book = after_the_battery_died(self.book, into=into)
        self.compare(self.today)

    def cut_off(self, into: Path) -> bool:
        """The folder with the last line of the newest journal cut off; the model forgets that word."""
        did, day = self.newest
        journal = Path("daybook") / f"{day}.journal"
        if did != "say" or not (self.book.folder / journal).exists() or self.is_closed(day):
            return False
        copytree(self.book.folder, into, ignore=lambda _, names: [name for name in names if "lock" in name])
        lines = (into / journal).read_bytes().splitlines(keepends=True)
        (into / journal).write_bytes(b"".join([*lines[:-1], lines[-1][: self.chance.randint(1, len(lines[-1]) - 2)]]))
        words = self.steps[day][-1][1]
        assert words
        del words[-1:]
        del self.truth.words[day][-1:]
        if not words:
            self.steps[day].pop()
        self.truth.changed(day)
        self.newest = "", day
        return True

    def is_closed(self, day: date) -> bool:
        return any(words is None for _, words in self.steps[day])

    def note(self, did: str, day: date, *words: Table) -> None:
        self.done.append(f"{self.clock:%d %b %H:%M:%S} {did} {day} {words or ''}")

    # -------------------------------------------------------------------------------------------------- side by side

    def compare(self, since: date) -> None:
        """From a day on that something was said of: openings, closings, letters and the chain."""
        for problem in self.book.check_chain():
            raise Disagreement(f"{self.today}: {problem}")
        days = [day for day in self.truth.days if since <= day <= self.today]
        for day in days:
            self.hold(f"opening of {day}", self.book.opening(day), self.truth.before(day))
            if day < self.today or self.is_closed(day):
                self.hold(f"closing of {day}", self.book.closing_of(day), self.truth.after(day))
        at = self.truth.days.index(self.today)
        for day in [*days, *self.truth.days[at + 1 : at + 3]]:
            if day <= self.today and self.book.day(day).day_name != self.truth.letter(day):
                raise Disagreement(f"{day} is {self.book.day(day).day_name}, in the model {self.truth.letter(day)}")

    def compare_list(self) -> None:
        """Today's lines: what is needed and what the container holds."""
        visits, lines = self.truth.list_on(self.today)
        listed = self.book.day(self.today)
        held = self.truth.before(self.today)["contents"]
        ours = {key_of(line): (line["need"], held.get(stands_in(line), {}).get(line["supply"], 0)) for line in lines}
        theirs = {line.key: (line.need, line.in_it) for line in listed.lines}
        differ("lines", self.today, theirs, ours)
        of_visits = {visit["key"]: (visit["steps"], visit["students"]) for visit in visits}
        planned = {
            visit.key: ([(step.lesson, step.part) for step in visit.steps], visit.students) for visit in listed.visits
        }
        differ("visits", self.today, planned, of_visits)

    def hold(self, what: str, theirs: State, ours: Table) -> None:
        for name, known in kept_by_book(self.book, theirs).items():
            differ(f"{what}: {name}", self.today, known, kept_by_model(ours)[name])

    # ------------------------------------------------------------------------------------------------ a day of hers

    def live(self, days: int = DAYS) -> None:
        for day in self.truth.days[:days]:
            self.today = self.book.today = day
            self.clock = max(self.clock, datetime.combine(self.today, time(6, 30)))
            self.compare(self.today)
            self.live_a_day()
        self.book.release()

    def live_a_day(self) -> None:
        chance = self.chance
        is_first = self.today == self.truth.days[0]
        if chance.random() < 0.15:
            self.change_the_day()
        self.compare_list()
        if chance.random() < 0.9:
            self.in_the_morning()
        for clock in (time(8, 50), time(9, 50), time(12)):
            self.clock = max(self.clock, datetime.combine(self.today, clock))
            if chance.random() < 0.15:
                self.look_and_count()
        self.clock = max(self.clock, datetime.combine(self.today, time(14)))
        if chance.random() < 0.85:
            self.report_the_day()
        if chance.random() < 0.3:
            self.look_and_count()
        if chance.random() < 0.2:
            self.lend()
        if chance.random() < 0.35:
            self.correct_an_earlier_day()
        if chance.random() < 0.15:
            self.pack_for_tomorrow()
        if chance.random() < 0.8 or is_first:
            self.close(self.today)
        left = [day for day in self.truth.days if day < self.today and not self.is_closed(day)]
        if left and chance.random() < 0.4:
            self.close(chance.choice(left))
        if not is_first:
            for _ in range(chance.choice([0, 0, 0, 1, 1, 2, 4])):
                self.undo()
            if chance.random() < 0.15:
                self.start_again()
        self.compare(self.today)

    def change_the_day(self) -> None:
        how: Table = chance_of(
            self.chance,
            {"no_school": True},
            {"substitute": True},
            {"away": (self.chance.choice(self.school["classes"])["id"],)},
            {
                "students": {
                    each["id"]: self.chance.randint(10, 27) for each in self.chance.sample(self.school["classes"], 2)
                }
            },
            {"day": self.chance.choice(self.school["school"]["rotation"]["days"])},
        )
        self.say(self.today, {"did": "changed", "how": how})

    def in_the_morning(self) -> None:
        chance = self.chance
        if chance.random() < 0.15:
            supply = chance.choice([each["id"] for each in self.school["supplies"]])
            self.say(self.today, {"did": "delivered", "supply": supply, "packs": chance.randint(1, 6)})
        if chance.random() < 0.1:
            self.look_and_count()
        if chance.random() < 0.1:
            self.lend()
        self.pack(self.today)
        for case in self.truth.before(self.today)["cases"]:
            if chance.random() < 0.3:
                self.say(self.today, {"did": "case closed", "case": case, "found": chance.random() < 0.6})
        if chance.random() < 0.1:
            container = chance.choice(["box-1", "box-3", "sewing"])
            self.say(
                self.today, {"did": "stands", "container": container, "place": chance.choice(["store", "9", "14"])}
            )

    def lend(self) -> None:
        """Something out of a container to a neighbour, or back, in one go or two."""
        state = self.truth.before(self.today)
        tools = {"snips", "pencil", "paste-pot", "thread-needle"}
        inside = [(where, of, n) for where, held in state["contents"].items() for of, n in held.items() if of in tools]
        if self.chance.random() < 0.5:
            where, of, number = self.chance.choice(inside)
            count = self.chance.randint(1, min(6, number))
            self.say(self.today, {"did": "lent", "container": where, "supply": of, "count": count})
        elif state["lent"]:
            loan, (of, _) = self.chance.choice(list(state["lent"].items()))
            where, count = self.chance.choice(["cart", "box-3"]), self.chance.randint(1, 6)
            word = {"did": "given back", "container": where, "supply": of, "count": count, "loan": loan}
            self.say(self.today, word)

    def pack(self, day: date) -> None:
        chance = self.chance
        state = self.truth.before(day)
        _, lines = self.truth.list_on(day)
        for line in lines:
            key = (line["container"], line["supply"], line["kit"])
            inside = state["contents"].get(stands_in(line), {}).get(line["supply"], 0)
            need, drawn = max(line["need"], inside), chance.random()
            if drawn < 0.7:
                self.say(day, {"did": "packed", "line": key, "count": need})
            elif drawn < 0.78:
                self.say(day, {"did": "packed", "line": key, "count": chance.randint(0, need)})
            elif drawn < 0.84:
                remedy = chance.choice(["go without", "share", "make more", "fetch", "use another"])
                count = chance.randint(0, line["need"])
                self.say(day, {"did": "short", "line": key, "count": count, "remedy": remedy})
            elif drawn < 0.88:
                self.say(day, {"did": "not needed", "line": key})
            elif drawn < 0.91 and inside:
                out = chance.randint(1, inside)
                where = {"container": stands_in(line), "supply": line["supply"]}
                self.say(day, {"did": "taken out", **where, "count": out, "left": inside - out})

    def look_and_count(self) -> None:
        """A stock count, a look into a container, a glance at the shelf, something taken out."""
        chance = self.chance
        state = self.truth.before(self.today)
        supply = chance.choice([each["id"] for each in self.school["supplies"]])
        inside = [(where, each, n) for where, held in state["contents"].items() for each, n in held.items()]
        where, of, number = chance.choice(inside)
        drawn = chance.random()
        if drawn < 0.4:
            thought = state["stock"].get(supply, 100)
            self.say(
                self.today, {"did": "counted", "supply": supply, "count": max(0, thought + chance.randint(-30, 30))}
            )
        elif drawn < 0.75:
            count = max(0, number + chance.randint(-12, 4))
            self.say(self.today, {"did": "found", "container": where, "supply": of, "count": count})
        elif drawn < 0.9:
            left = chance.randint(0, number)
            self.say(
                self.today, {"did": "taken out", "container": where, "supply": of, "count": number - left, "left": left}
            )
        else:
            level = chance.choice(["out", "low", "plenty"])
            self.say(self.today, {"did": "level", "supply": supply, "level": level})

    def report_the_day(self) -> None:
        visits, lines = self.truth.list_on(self.today)
        for visit in visits:
            if self.chance.random() < 0.88:
                self.say(self.today, *self.a_report(visit, lines))
        for visit in visits:
            for line in lines:
                if line["supply"] in ("snips", "thread-needle") and visit["key"] in line["visits"]:
                    self.count_back(self.today, visit, line)

    def a_report(self, visit: Table, lines: list[Table]) -> list[Table]:
        chance = self.chance
        outcomes = {"done": 14, "done except": 3, "about half": 2, "not taught": 2, "went further": 2, "unknown": 1}
        outcome = chance.choices(list(outcomes), list(outcomes.values()))[0]
        children = max(1, visit["students"])
        drawn = chance.random()
        word: Table = {"did": "report", "visit": visit["key"], "outcome": outcome, "absent": [], "count": 0, "half": []}
        word["absent"] = sorted(chance.sample(range(1, children + 1), chance.randint(1, 3))) if drawn < 0.45 else []
        word["count"] = chance.randint(1, 3) if 0.38 < drawn < 0.52 else 0
        word["known"] = not 0.52 < drawn < 0.64
        word["half"] = sorted(chance.sample(range(1, children + 1), 2)) if chance.random() < 0.1 else []
        word["not done"] = chance.randint(1, 8) if outcome == "done except" else 0
        word["reached"] = visit["steps"][0][1] + chance.randint(0, 2) if outcome == "went further" else None
        words = [word]
        if any(line["kit"] == visit["class"] for line in lines) and chance.random() < 0.8:
            words.append({"did": "handed out", "visit": visit["key"], "given": chance.random() < 0.75})
        return words

    def count_back(self, day: date, visit: Table, line: Table) -> None:
        drawn = self.chance.random()
        if drawn < 0.8:
            missing = self.chance.randint(1, 2) if drawn < 0.12 else 0
            word = {"did": "sharps", "visit": visit["key"], "supply": line["supply"], "out": 13, "back": 13 - missing}
            self.say(day, {**word, "on": None})

    def correct_an_earlier_day(self) -> None:
        chance = self.chance
        at = self.truth.days.index(self.today)
        earlier = self.truth.days[max(1, at - CORRECTED_WITHIN) : at]
        if not earlier:
            return
        day = chance.choice(earlier)
        visits, lines = self.truth.list_on(day)
        drawn = chance.random()
        if drawn < 0.06 and not changes_of(self.truth.words[day]).get("no_school"):
            self.say(day, {"did": "changed", "how": {"no_school": True}})
        elif drawn < 0.1:
            self.say(day, {"did": "changed", "how": {"no_school": False}})
        elif drawn < 0.2 and lines:
            line = chance.choice(lines)
            key = line["container"], line["supply"], line["kit"]
            self.say(day, {"did": "packed", "line": key, "count": chance.randint(0, line["need"] + 3)})
        elif drawn < 0.26:
            supply = chance.choice([each["id"] for each in self.school["supplies"]])
            self.say(day, {"did": "counted", "supply": supply, "count": chance.randint(0, 400)})
        elif drawn < 0.36:
            counts = [word for word in said(self.truth.words[day], "sharps") if not word["on"]]
            closed = {word["case"] for words in self.truth.words.values() for word in said(words, "case closed")}
            counts = [word for word in counts if case_of(day, word) not in closed]
            if counts:
                word = chance.choice(counts)
                late = {**word, "on": day, "back": word["out"] - chance.randint(0, 2)}
                late.pop("at")
                self.say(self.today, late)
        elif visits:
            self.say(day, *self.a_report(chance.choice(visits), lines))
        self.compare(day)

    def pack_for_tomorrow(self) -> None:
        at = self.truth.days.index(self.today)
        if at + 1 < len(self.truth.days):
            self.pack(self.truth.days[at + 1])


def chance_of(chance: Random, *choices: Table) -> Table:
    return chance.choice(choices)


# --------------------------------------------------------------------------------------------------- the book's words


def key_of(line: Table) -> str:
    return key_of_line((line["container"], line["supply"], line["kit"]))


def key_of_line(line: tuple[str, str, str]) -> str:
    container, supply, kit = line
    return f"{container}/{supply}" + (f"/catch-up {kit}" if kit else "")


def as_entry(word: Table) -> book_of.AnyEntry:
    """A word of the model as an entry of the daybook."""
    at = word["at"]
    match word["did"]:
        case "packed":
            return book_of.Packed(at=at, line=key_of_line(word["line"]), count=word["count"])
        case "short":
            line = key_of_line(word["line"])
            return book_of.CameUpShort(at=at, line=line, count=word["count"], remedy=word["remedy"])
        case "not needed":
            return book_of.NotNeeded(at=at, line=key_of_line(word["line"]))
        case "found":
            container, supply = place_of(word)
            return book_of.FoundInContainer(at=at, container=container, supply=supply, count=word["count"])
        case "taken out":
            container, supply = place_of(word)
            return book_of.TakenOut(at=at, container=container, supply=supply, count=word["count"], left=word["left"])
        case "counted":
            return book_of.CountedStock(at=at, supply=word["supply"], count=word["count"])
        case "delivered":
            return book_of.Delivered(at=at, supply=word["supply"], packs=word["packs"])
        case "level":
            return book_of.FoundLevel(at=at, supply=word["supply"], level=word["level"])
        case "lent":
            container, supply = place_of(word)
            return book_of.Lent(at=at, supply=supply, count=word["count"], container=container)
        case "given back":
            container, supply = place_of(word)
            loan = f"loan/{word['loan'].isoformat()}/{supply}"
            return book_of.GivenBack(at=at, loan=loan, count=word["count"], supply=supply, container=container)
        case "stands":
            return book_of.Stands(at=at, container=word["container"], place=word["place"])
        case "case closed":
            return book_of.ClosedCase(at=at, case=word["case"], found=word["found"])
        case "changed":
            return book_of.Changed(at=at, **word["how"])
        case "handed out":
            return book_of.HandedOut(at=at, visit=word["visit"], given=word["given"])
        case "sharps":
            out, back = word["out"], word["back"]
            return book_of.CountedSharps(
                at=at, visit=word["visit"], supply=word["supply"], out=out, back=back, on=word["on"]
            )
    return book_of.Reported(
        at=at,
        visit=word["visit"],
        outcome=word["outcome"],
        not_done=word["not done"],
        reached_part=word["reached"],
        absent=tuple(word["absent"]),
        absent_count=word["count"],
        absences_known=word["known"],
        half=tuple(word["half"]),
    )


# ------------------------------------------------------------------------------------------- what both know, alike


def kept_by_book(book: Book, state: State) -> Table:
    held = {place: {each: n for each, n in inside.items() if n} for place, inside in state.contents.items()}
    classes = {}
    for class_ in book.plan.classes:
        now = progress_of(book.plan, state, class_)
        classes[class_.id] = {
            "place": now and (now.lesson, now.part, now.taught_on, now.again),
            "owed": {(each.lesson, each.part): owed_alike(each) for each in state.owed.get(class_.id, ())},
            "unfinished": [
                (each.lesson, each.part, each.count, list(each.numbers)) for each in state.unfinished.get(class_.id, ())
            ],
            "unsure": [(each.date, each.visit, each.lesson, each.part) for each in state.unsure.get(class_.id, ())],
        }
    return {
        "contents": {place: inside for place, inside in held.items() if inside},
        "stock": dict(state.on_hand),
        "places": {container: place.where for container, place in state.places.items()},
        "cases": {case.key: (case.supply, case.count) for case in state.cases},
        "lent": {each.key: (each.supply, each.count) for each in state.lent},
        "lost": set(state.lost_days),
        "classes": classes,
    }


def owed_alike(owed: Any) -> tuple[Any, ...]:
    return list(owed.numbers), owed.count, owed.unknown, owed.since


def kept_by_model(state: Table) -> Table:
    classes = {
        class_id: {
            "place": (now["lesson"], now["part"], now["taught on"], now["again"]),
            "owed": {
                step: (each["numbers"], each["count"], each["unknown"], each["since"])
                for step, each in now["owed"].items()
            },
            "unfinished": [(*each["step"], each["count"], each["numbers"]) for each in now["unfinished"]],
            "unsure": now["unsure"],
        }
        for class_id, now in state["classes"].items()
    }
    same = ("contents", "stock", "places", "cases", "lost")
    lent = {f"loan/{at.isoformat()}/{supply}": (supply, count) for at, (supply, count) in state["lent"].items()}
    return {**{name: state[name] for name in same}, "lent": lent, "classes": classes}


def differ(what: str, today: date, theirs: Table, ours: Table) -> None:
    if theirs == ours:
        return
    if not isinstance(theirs, dict):
        raise Disagreement(f"{today}, {what}: the book says {theirs}, the model {ours}")
    found = [
        f"{key}: the book says {theirs.get(key)}, the model {ours.get(key)}"
        for key in dict.fromkeys([*theirs, *ours])
        if theirs.get(key) != ours.get(key)
    ]
    raise Disagreement(f"{today}, {what}\n  " + "\n  ".join(found))


def live(seed: int, days: int = DAYS) -> str:
    """What the first disagreement of a school is, with the steps before it; "" where there is none."""
    with TemporaryDirectory() as folder:
        weeks = Weeks(Path(folder), seed)
        try:
            weeks.live(days)
        except Disagreement as found:
            return "\n".join([f"school {seed}", *weeks.done[-40:], str(found)])
    return ""


if __name__ == "__main__":
    for number in range(int(sys.argv[1]), int(sys.argv[2]) + 1):
        print(live(number) or f"school {number}: no disagreement", flush=True)  # noqa: T201
