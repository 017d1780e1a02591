"""What is true after each day, gone through from the first one: what was said in the morning, and what came of it.

A word is what she said: a table with the moment "at", "did", and the rest as in the daybook's entries. Of two words on
one thing the later one stands. An answer given weeks later is a word of the day it is about.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from copy import deepcopy
from datetime import date, datetime, time
from fractions import Fraction
from math import ceil
from typing import Any

from tests.references.truth.needs import Step, comes_back, container_of, lines_of, part_of, units, way_to_make_up
from tests.references.truth.school import FILLER, Table, by_id, planned_days

MOST_ASKED = 3
"""Open questions of a class that are kept; with them two parts more are packed for than the next one."""
Words = list[Table]


class Truth:
    """All that was said, day by day, and how things stand before and after each day. Slow on purpose."""

    def __init__(self, school: Table) -> None:
        self.school = school
        self.days = planned_days(school)
        self.words: dict[date, Words] = {day: [] for day in self.days}
        self._after: dict[date, Table] = {}

    def changed(self, day: date) -> None:
        """Something else was said of a day: whatever came after it is gone through again."""
        self._after = {each: state for each, state in self._after.items() if each < day}

    def before(self, day: date) -> Table:
        at = self.days.index(day)
        return self.after(self.days[at - 1]) if at else first_state(self.school)

    def after(self, day: date) -> Table:
        if day not in self._after:
            self._after[day] = state_after(self.school, day, self.before(day), self.words[day])
        return self._after[day]

    def list_on(self, day: date) -> tuple[list[Table], list[Table]]:
        """The visits and lines of a day."""
        return list_of(self.school, day, self.before(day), self.words[day])

    def letter(self, day: date) -> str:
        state = deepcopy(self.before(day))
        learn_calendar(state, day, changes_of(self.words[day]))
        return letter_of(self.school, day, state)


def first_state(school: Table) -> Table:
    """Containers full, stock as the plan says, every class at the first part of its grade's first lesson."""
    kits = {kit["id"]: dict(kit["holds"]) for kit in school["kits"]}
    boxes = {f"box-{box['grade']}": dict(box["standing"]) for box in school["boxes"]}
    listed = {each["id"]: each.get("on_hand") for each in school["supplies"]}
    classes = {
        each["id"]: {
            "lesson": school["teaching"][each["grade"]][0],
            "part": 1,
            "taught on": None,
            "again": False,
            "done": [],
            "owed": {},
            "unfinished": [],
            "unsure": [],
        }
        for each in school["classes"]
    }
    return {
        "contents": {"cart": dict(school["school"]["cart"]["standing"])} | boxes | kits,
        "stock": {supply: number for supply, number in listed.items() if isinstance(number, int)},
        "out": {supply for supply, number in listed.items() if number == "out"},
        "places": {},
        "cases": {},
        "lent": {},
        "lost": set(),
        "announced": {},
        "classes": classes,
    }


def state_after(school: Table, day: date, opening: Table, words: Words) -> Table:
    visits, lines = list_of(school, day, opening, words)
    told = reports_of(visits, words)
    state = deepcopy(opening)
    learn_calendar(state, day, changes_of(words))
    state["contents"] = contents_after(school, day, opening, words, visits, lines, told)
    state["stock"], state["out"] = stock_after(school, day, opening, words, visits, lines, told)
    state["lent"] = lent_after(opening, words)
    if_level_is_out(school, opening, state, words)
    state["cases"] = cases_after(day, opening, words)
    for word in said(words, "stands"):
        state["places"].pop(word["container"], None)
        if word["place"] != "store":
            state["places"][word["container"]] = word["place"]
    for visit in visits:
        given = newest_of(words, "handed out", visit["key"], visits)
        class_after(school, day, state["classes"][visit["class"]], visit, told[visit["key"]], given)
    return state


# -------------------------------------------------------------------------------------------------- words of a day


def said(words: Words, did: str) -> Words:
    return [word for word in words if word["did"] == did]


def newest_of(words: Words, did: str, key: str, visits: list[Table]) -> Table | None:
    """The newest word of a kind on a visit."""
    return next((word for word in reversed(said(words, did)) if key_now(word, visits, words) == key), None)


def changes_of(words: Words) -> Table:
    """Of each thing that is changed, and of each class, the newest word."""
    changes: Table = {}
    for word in said(words, "changed"):
        for name, value in word["how"].items():
            changes[name] = {**changes.get(name, {}), **value} if isinstance(value, dict) else value
    return changes


def key_now(word: Table, visits: list[Table], words: Words) -> str:
    """The visit a word is about. The calendar may have moved the class to another period since it was said."""
    keys = [visit["key"] for visit in visits]
    told = {each["visit"] for each in words if each["did"] in ("report", "handed out", "sharps") and not each.get("on")}
    key: str = word["visit"]
    class_id = key.split()[1]
    now = [each for each in keys if each.split()[1] == class_id and each not in told]
    gone = [each for each in told if each not in keys and each.split()[1] == class_id]
    return now[0] if key not in keys and now and len(gone) == 1 else key


def reports_of(visits: list[Table], words: Words) -> dict[str, Table]:
    """Visit -> what was told of it. Who came is the class less the absent."""
    told = {}
    for visit in visits:
        word = newest_of(words, "report", visit["key"], visits)
        report = word or {"outcome": "unknown", "not done": 0, "absent": [], "count": 0, "known": False, "half": []}
        came = max(0, visit["students"] - len(report["absent"]) - report["count"])
        told[visit["key"]] = {**report, "share": Fraction(came, visit["students"])}
    return told


# ----------------------------------------------------------------------------------------------- calendar, visits


def learn_calendar(state: Table, day: date, changes: Table) -> None:
    if changes.get("no_school"):
        state["lost"].add(day)
    if changes.get("day"):
        state["announced"][day] = changes["day"]


def letter_of(school: Table, day: date, state: Table) -> str:
    """The day of the cycle, counted off from the first day of school; "" where there is no school."""
    rotation = school["school"]["rotation"]
    letters, is_fixed = rotation["days"], rotation["lost_day"] == "fixed"
    following = 0
    for n, each in enumerate(planned_days(school)):
        heard = state["announced"].get(each)
        if heard and not is_fixed:
            following = letters.index(heard)
        letter = (heard or letters[n % len(letters)]) if is_fixed else letters[following % len(letters)]
        if each == day:
            return letter if each not in state["lost"] else ""
        following += each not in state["lost"]
    return ""


def list_of(school: Table, day: date, opening: Table, words: Words) -> tuple[list[Table], list[Table]]:
    changes = changes_of(words)
    state = deepcopy(opening)
    learn_calendar(state, day, changes)
    timetable = school["timetable"].get(letter_of(school, day, state), {})
    visits = []
    for period in school["school"]["bells"][0]["periods"]:
        class_id = timetable.get(period["name"])
        if class_id is None or class_id in changes.get("away", ()):
            continue
        class_, now = by_id(school["classes"], class_id), opening["classes"][class_id]
        visits.append(
            {
                "key": f"{period['name']} {class_id}",
                "class": class_id,
                "grade": class_["grade"],
                "room": class_["room"],
                "end": datetime.combine(day, time.fromisoformat(period["end"].zfill(5))),
                "students": changes.get("students", {}).get(class_id, class_["students"]),
                "tables": class_["tables"],
                "substitute": bool(changes.get("substitute")),
                "steps": [(FILLER, 1)] if changes.get("substitute") else steps_of(school, class_, now),
            }
        )
    return visits, lines_of(school, visits, opening["classes"])


def steps_of(school: Table, class_: Table, now: Table) -> list[Step]:
    """The next part, and for each open question, two at most, the part after it as well."""
    steps = [(now["lesson"], now["part"])]
    now = deepcopy(now)
    for _ in now["unsure"][: MOST_ASKED - 1]:
        move_on(school, class_, now, None, 1)
        steps.append((now["lesson"], now["part"]))
    return list(dict.fromkeys(steps))


def move_on(school: Table, class_: Table, now: Table, day: date | None, parts: int) -> None:
    """So many parts further: within the lesson, or to the grade's first lesson that the class has not done."""
    now |= {"part": now["part"] + parts, "taught on": day, "again": False}
    if now["part"] > len(by_id(school["lessons"], now["lesson"])["parts"]):
        now["done"] = [*now["done"], now["lesson"]]
        left = [each for each in school["teaching"][class_["grade"]] if each not in now["done"]]
        now |= {"lesson": [*left, FILLER][0], "part": 1, "taught on": None}


# ---------------------------------------------------------------------------------------- containers and the stock


def stands_in(line: Table) -> str:
    return f"catch-up {line['kit']}" if line["kit"] else str(line["container"])


def is_of(line: Table) -> Callable[[Table], bool]:
    key = line["container"], line["supply"], line["kit"]
    return lambda word: bool(word["line"] == key)


def place_of(word: Table) -> tuple[str, str]:
    """Container and supply that a word is about."""
    if "line" in word:
        container, supply, kit = word["line"]
        return (f"catch-up {kit}" if kit else container), supply
    return word["container"], word["supply"]


def place_of_any(word: Table) -> tuple[str, str] | None:
    return place_of(word) if word["did"] in ("found", "taken out") else None


def is_off(line: Table, words: Words) -> bool:
    about = [word for word in words if word["did"] in ("packed", "short", "not needed") and is_of(line)(word)]
    return bool(about and about[-1]["did"] == "not needed")


def was_taught(report: Table) -> bool:
    """Also where nobody has told yet: then what was packed is taken as used."""
    return bool(report["outcome"] != "not taught")


def used_by(line: Table, use: tuple[str, Fraction, bool], words: Words, visits: list[Table], told: Table) -> Fraction:
    """What one visit used up of a line."""
    key, amount, each = use
    if line["kit"]:
        given = newest_of(words, "handed out", key, visits)
        return amount if given is not None and given["given"] else Fraction(0)
    return amount * (told[key]["share"] if each else 1) if was_taught(told[key]) else Fraction(0)


def used_further(school: Table, visit: Table, report: Table) -> Iterable[tuple[str, str, int]]:
    """Container, supply and amount of the parts beyond the planned one that a class went further to."""
    for n in range(1, parts_taught(visit, report)):
        lesson, first = visit["steps"][0]
        for item in part_of(school, (lesson, first + n))["items"] if first + n <= length(school, lesson) else ():
            if not comes_back(school, item["supply"]):
                amount = Fraction(item["count"]) * units(item["per"], visit["students"], visit["tables"])
                share = report["share"] if item["per"] in ("student", "pair") else 1
                yield container_of(school, item["supply"], visit, lesson), item["supply"], ceil(amount * share)


def length(school: Table, lesson: str) -> int:
    return len(by_id(school["lessons"], lesson)["parts"])


def contents_after(
    school: Table, day: date, opening: Table, words: Words, visits: list[Table], lines: list[Table], told: Table
) -> Table:
    """What was in a container when she left the store, or looked, less what was used after that.

    A tick says what went along, whenever it is made; a look says what was there at that moment.
    """
    held = {container: dict(inside) for container, inside in opening["contents"].items()}
    looked: dict[tuple[str, str], datetime] = {}
    for word in words:
        if word["did"] in ("packed", "short", "found", "taken out"):
            container, supply = place_of(word)
            held.setdefault(container, {})[supply] = word["left"] if word["did"] == "taken out" else word["count"]
            if word["did"] == "found":
                looked[container, supply] = word["at"]
            elif word["did"] != "taken out":
                looked.pop((container, supply), None)
        elif word["did"] in ("lent", "given back"):
            container, supply = place_of(word)
            inside = held.setdefault(container, {})
            inside[supply] = max(0, inside.get(supply, 0) + more_in_it(word, words, opening))
    taken: dict[tuple[str, str], Fraction] = {}
    end = {visit["key"]: visit["end"] for visit in visits}
    for line in lines:
        place = stands_in(line), line["supply"]
        for use in line["uses"] if not is_off(line, words) else ():
            if place not in looked or looked[place] < end[use[0]]:
                taken[place] = taken.get(place, Fraction(0)) + used_by(line, use, words, visits, told)
    left = {place: ceil(amount) for place, amount in taken.items()}
    for visit in visits:
        for container, supply, amount in used_further(school, visit, told[visit["key"]]):
            if (container, supply) not in looked or looked[container, supply] < visit["end"]:
                left[container, supply] = left.get((container, supply), 0) + amount
    for (container, supply), amount in left.items():
        inside = held.setdefault(container, {})
        inside[supply] = max(0, inside.get(supply, 0) - amount)
    for at, supply, number, home in lost_and_found(school, day, opening, words, visits, lines):
        if (home, supply) not in looked or looked[home, supply] < at:
            inside = held.setdefault(home, {})
            inside[supply] = max(0, inside.get(supply, 0) - number)
    some = {container: {each: n for each, n in inside.items() if n} for container, inside in held.items()}
    return {container: inside for container, inside in some.items() if inside}


def stock_after(
    school: Table, day: date, opening: Table, words: Words, visits: list[Table], lines: list[Table], told: Table
) -> tuple[Table, set[str]]:
    """All she has of each supply, as far as known: what came, less what was used, broken up or lost since a count."""
    stock, out = dict(opening["stock"]), set(opening["out"])
    counted: dict[str, datetime] = {}

    def take(supply: str, amount: int) -> None:
        if supply in stock:
            stock[supply] = max(0, stock[supply] - amount)

    for word in words:
        supply = word.get("supply", "")
        if word["did"] == "counted":
            stock[supply], counted[supply] = word["count"], word["at"]
            out -= {supply} if word["count"] else set()
        elif word["did"] == "delivered":
            if supply not in stock and supply in out:  # none on the shelf: what containers hold is all there is
                stock[supply] = sum(inside.get(supply, 0) for inside in opening["contents"].values())
            if supply in stock:
                stock[supply] += word["packs"] * by_id(school["supplies"], supply).get("pack", 1)
            out -= {supply}
        elif word["did"] == "level":
            out = out | {supply} if word["level"] == "out" else out - {supply}
    for at, supply, number in gone_for_good(opening, words):
        if supply not in counted or counted[supply] < at:
            take(supply, number)
    end = {visit["key"]: visit["end"] for visit in visits}
    for line in lines:
        if not line["stays"] and not is_off(line, words):
            parts = [(end[use[0]], used_by(line, use, words, visits, told)) for use in line["uses"]]
            take(line["supply"], used_since(line, parts, words, counted.get(line["supply"])))
    for visit in visits:
        for _, supply, amount in used_further(school, visit, told[visit["key"]]):
            if supply not in counted or counted[supply] < visit["end"]:
                take(supply, amount)
    for at, supply, number, _ in lost_and_found(school, day, opening, words, visits, lines):
        if supply not in counted or counted[supply] < at:
            take(supply, number)
    return stock, out


def used_since(line: Table, used: list[tuple[datetime, Fraction]], words: Words, counted: datetime | None) -> int:
    """What visits used of a line after the stock was counted; never more than went along, as far as she said."""
    along: Fraction | None = None
    looked: tuple[datetime, int] | None = None
    for word in words:
        if word["did"] in ("packed", "short") and is_of(line)(word):
            along, looked = Fraction(word["count"]), None
        elif along is None or "line" in word or place_of_any(word) != (stands_in(line), line["supply"]):
            continue
        elif word["did"] == "found":
            looked = word["at"], word["count"]
        elif looked is not None:
            looked = looked[0], word["left"]
        else:
            along = Fraction(word["left"])
    total = Fraction(0)
    for end, amount in sorted(used, key=lambda each: each[0]):
        if looked is not None and looked[0] < end:
            along, looked = Fraction(looked[1]), None
        amount = amount if along is None else min(amount, along)
        along = along if along is None else along - amount
        total += amount if counted is None or counted < end else 0
    return ceil(total)


def gone_for_good(opening: Table, words: Words) -> Iterable[tuple[datetime, str, int]]:
    """Where a line came up short, and fewer were in the container than was thought: the others are gone."""
    thought = {container: dict(inside) for container, inside in opening["contents"].items()}
    short: dict[tuple[str, str], tuple[datetime, int, int]] = {}
    for word in words:
        if word["did"] in ("found", "taken out"):
            container, supply = place_of(word)
            now = word["left"] if word["did"] == "taken out" else word["count"]
            if word["did"] == "found" and now > short.get((container, supply), (word["at"], 0, now))[2]:
                short.pop((container, supply), None)  # more are there than she had said
            if (container, supply) in short:
                short[container, supply] = (*short[container, supply][:2], now)
            thought.setdefault(container, {})[supply] = now
        elif word["did"] in ("packed", "short"):
            container, supply = place_of(word)
            short.pop((container, supply), None)
            if word["did"] == "short":
                missing = max(0, thought.get(container, {}).get(supply, 0) - word["count"])
                short[container, supply] = word["at"], missing, word["count"]
        elif word["did"] == "not needed":
            short.pop(place_of(word), None)
        elif word["did"] in ("lent", "given back"):
            container, supply = place_of(word)
            inside = thought.setdefault(container, {})
            inside[supply] = max(0, inside.get(supply, 0) + more_in_it(word, words, opening))
    for (_, supply), (at, missing, _) in short.items():
        yield at, supply, missing


def lent_after(opening: Table, words: Words) -> Table:
    """Loan -> supply, and how many are still out."""
    loans = dict(opening["lent"])
    for word in words:
        if word["did"] == "lent":
            loans[word["at"]] = word["supply"], word["count"]
        elif word["did"] == "given back" and word["loan"] in loans:
            supply, out = loans[word["loan"]]
            loans[word["loan"]] = supply, max(0, out - word["count"])
    return {loan: (supply, out) for loan, (supply, out) in loans.items() if out}


def more_in_it(word: Table, words: Words, opening: Table) -> int:
    """How many more a container holds by lending or giving back: never more come back than were out."""
    if word["did"] == "lent":
        return -int(word["count"])
    before = lent_after(opening, words[: words.index(word)])
    return min(int(word["count"]), int(before.get(word["loan"], ("", 0))[1]))


def tied_up(school: Table, state: Table) -> dict[str, int]:
    """What stays in the work of classes that are in the middle of a lesson, for each child of the class."""
    found: dict[str, int] = {}
    for class_ in school["classes"]:
        now = state["classes"][class_["id"]]
        parts = by_id(school["lessons"], now["lesson"])["parts"][: now["part"] - 1]
        items = {item["supply"]: item for part in parts for item in part["items"] if item.get("stays_in_work")}
        for supply, item in items.items():
            found[supply] = found.get(supply, 0) + units(item["per"], class_["students"], class_["tables"])
    return found


def if_level_is_out(school: Table, opening: Table, state: Table, words: Words) -> None:
    """Nothing on the shelf: what is in containers and in work is all there is."""
    levels: dict[str, str] = {}
    for word in words:
        if word["did"] == "level":
            levels[word["supply"]] = word["level"]
        elif word["did"] == "delivered" or (word["did"] == "counted" and word["count"]):
            levels.pop(word["supply"], None)
    for supply, level in levels.items():
        if level == "out" and supply in state["stock"]:
            inside = sum(held.get(supply, 0) for held in state["contents"].values())
            lent = sum(count for of, count in state["lent"].values() if of == supply)
            state["stock"][supply] = inside + tied_up(school, opening).get(supply, 0) + lent


# ------------------------------------------------------------------------------------------------ what was counted


def case_of(day: date, word: Table) -> str:
    return f"{word.get('on') or day}/{word['visit']}/{word['supply']}"


def tallies(day: date, words: Words) -> Table:
    """Case -> the newest count, out and back."""
    return {case_of(day, word): word for word in said(words, "sharps")}


def cases_after(day: date, opening: Table, words: Words) -> Table:
    closed = {word["case"] for word in said(words, "case closed")}
    cases = {key: case for key, case in opening["cases"].items() if key not in closed}
    for key, word in tallies(day, words).items():
        cases.pop(key, None)
        if word["back"] < word["out"] and key not in closed:
            cases[key] = (word["supply"], word["out"] - word["back"])
    return cases


def lost_and_found(
    school: Table, day: date, opening: Table, words: Words, visits: list[Table], lines: list[Table]
) -> Iterable[tuple[datetime, str, int, str]]:
    """When counted, supply, how many more are missing (found: below nothing), and the container they were in."""
    closed = {word["case"]: word for word in said(words, "case closed") if word["found"]}
    homes = {"snips": "cart", "thread-needle": "sewing"}
    for key, word in tallies(day, words).items():
        if key not in closed:
            known = opening["cases"].get(key, ("", 0))[1]
            visit = key_now(word, visits, words)
            here = [line for line in lines if line["supply"] == word["supply"] and visit in line["visits"]]
            place = stands_in(here[0]) if here and not word.get("on") else homes[word["supply"]]
            yield word["at"], word["supply"], max(0, word["out"] - word["back"]) - known, place
    for key, word in closed.items():
        if key in opening["cases"]:
            supply, count = opening["cases"][key]
            yield word["at"], supply, -count, homes[supply]


# ------------------------------------------------------------------------------------------------------- the class


def parts_taught(visit: Table, report: Table) -> int:
    if visit["substitute"] or report["outcome"] not in ("done", "done except", "went further"):
        return 0
    return max(1, report["reached"] - visit["steps"][0][1] + 1) if report["outcome"] == "went further" else 1


def class_after(school: Table, day: date, now: Table, visit: Table, report: Table, given: Table | None) -> None:
    """Its place, who is owed what, who is not done, and what nobody has told."""
    step, taught = visit["steps"][0], parts_taught(visit, report)
    took_place = not visit["substitute"] and report["outcome"] not in ("unknown", "not taught")
    if given is not None and given["given"]:
        now["owed"] = {
            each: left for each, was in now["owed"].items() for left in still(school, visit, each, was, report)
        }
    if took_place:  # a reserve was along: who missed it has it now
        now["owed"] = {each: was for each, was in now["owed"].items() if not was["unknown"]}
        here = [was for was in now["unfinished"] if set(was["numbers"]) & set(report["absent"])]
        now["unfinished"] = [
            {**was, "numbers": left, "count": len(left)}
            for was in here
            for left in [[number for number in was["numbers"] if number in report["absent"]]]
        ]
        half = [number for number in sorted(report["half"]) if number not in report["absent"]]
        if taught and (half or report["not done"]):
            last = min(step[1] + taught - 1, length(school, step[0]))
            not_done = {"step": (step[0], last), "count": report["not done"] + len(half)}
            now["unfinished"].append({**not_done, "numbers": half, "since": day})
    if not visit["substitute"]:
        for n in range(max(taught, report["outcome"] == "unknown")):
            if step[1] + n <= length(school, step[0]):
                missed(school, day, now["owed"], (step[0], step[1] + n), report)
        if report["outcome"] == "unknown":
            now["unsure"] = [*now["unsure"], (day, visit["key"], *step)][-MOST_ASKED:]
        if report["outcome"] == "about half":
            now["again"] = True
    if taught:
        move_on(school, by_id(school["classes"], visit["class"]), now, day, taught)


def missed(school: Table, day: date, owed: dict[Step, Table], step: Step, report: Table) -> None:
    """Once for a child and part; of children without a number the larger count, where the part is taught again."""
    if part_of(school, step).get("catch_up") == "none":
        return
    nothing: Table = {"numbers": [], "count": 0, "unknown": False, "since": day}
    was = owed.pop(step, nothing)
    nobody_knows = not report["absent"] and not report["count"] and not report["known"]
    numbers = sorted({*was["numbers"], *report["absent"]})
    count = max(was["count"], report["count"])
    unknown = (was["unknown"] or nobody_knows) and not numbers and not count
    if numbers or count or unknown:
        owed[step] = {"numbers": numbers, "count": count, "unknown": unknown, "since": was["since"]}


def still(school: Table, visit: Table, step: Step, was: Table, report: Table) -> Iterable[Any]:
    """What stays owed when the kit was handed out: to those absent again, among whom may be who was only counted."""
    if way_to_make_up(school, visit, step) == "held":
        yield was  # it was not along
        return
    numbers = [number for number in was["numbers"] if number in report["absent"]]
    others_listed = len(report["absent"]) - len(numbers)
    most = max(
        listed + min(was["count"] - listed + len(was["numbers"]) - len(numbers), report["count"])
        for listed in range(min(was["count"], others_listed) + 1)
    )
    if numbers or most:
        yield {**was, "numbers": numbers, "count": most, "unknown": False}
