"""The one table of keys: bindings, the key bar and the help page are all read from it.

Every key is a plain one: no Ctrl, no Shift, no function key. What the right hand does with Enter, arrows and digits,
the left hand does with the letters beside Caps Lock.
"""

from __future__ import annotations

from typing import NamedTuple

from textual.binding import Binding

KEY_NAMES = {
    "space": "Space",
    "enter": "Enter",
    "escape": "Esc",
    "equals_sign": "=",
    "full_stop": ".",
    "comma": ",",
    "minus": "-",
    "semicolon": ";",
    "slash": "/",
    "grave_accent": "`",
    "backspace": "Backspace",
    "tab": "Tab",
} | {name: name.capitalize() for name in ("up", "down", "left", "right")}


class Key(NamedTuple):
    """What one key does. ``label`` stands in the key bar where it is not empty, ``meaning`` on the help page."""

    action: str
    keys: tuple[str, ...]
    label: str
    meaning: str
    before: str = ""
    """What is typed before the key: "number"."""

    @property
    def shown(self) -> str:
        name = KEY_NAMES.get(self.keys[0], self.keys[0])
        return f"{self.before} {name}:" if self.before else name

    @property
    def all_shown(self) -> str:
        """For the help page, with an example where something is typed before the key."""
        names = " or ".join(KEY_NAMES.get(key, key) for key in self.keys)
        return f"18 {names}" if self.before else names


UNDO = Key("undo", ("u", "z"), "undo", "take back the newest step")
HELP = Key("help", ("h",), "keys", "this page")
ROWS = (
    Key("line_before", ("up", "r"), "", "the row above"),
    Key("line_after", ("down", "f"), "", "the row below"),
)
HEADINGS = (
    Key("section_after", ("right",), "", "the next heading"),
    Key("section_before", ("left",), "", "the heading before"),
)
ERASE = Key("erase", ("backspace",), "", "erase the last sign typed")
STEP_BACK = Key("back", ("b", "escape"), "back", "back; while something is typed, leave that alone")
QUIT = Key("quit", ("q",), "", "quit; everything is saved already")
MOVES = (
    Key("line_before", ("up", "r"), "", "the line above"),
    Key("line_after", ("down", "f"), "", "the line below"),
    Key("section_after", ("right", "c"), "", "the next container, shelf or class"),
    Key("section_before", ("left", "b"), "", "back to the one before"),
)
MORNING = (
    Key(
        "pack",
        ("enter", "space"),
        "pack",
        "packed in full, on to the next open line",
    ),
    Key(
        "say_short",
        ("s",),
        "short",
        "not enough; a digit then says what you do. A number before it: so many there are",
    ),
    Key("say_not_needed", ("n", "x"), "off", "not needed: cross it off for today; a digit then says why"),
    Key(
        "pack_section",
        ("a", "equals_sign"),
        "as listed",
        "the whole container as listed but for what is critical, counted or in part; the first of that is in hand",
    ),
    Key(
        "pack",
        ("enter",),
        "so many",
        "so many are in it; the line stays in hand while some are missing",
        before="number",
    ),
    Key("undo", ("u", "z"), "undo", "take back the newest step; also after a restart"),
    HELP,
    Key("why", ("w",), "why", "why it is on the list, how its number came about, how to change it"),
    Key("go", ("g",), "go", "before you go: what is still open"),
    Key("day_end", ("e",), "end of day", "end of the day: what is unresolved"),
    Key("visits", ("v",), "visits", "what came back from the rooms: a line a visit, typed from the cart sheet"),
    Key("order", ("o",), "order", "the same lines by container, by shelf, by class"),
    Key("other_day", ("d",), "day", "the next school day, and back"),
    Key("rules", ("comma",), "rules", "the rules, first those behind the line in hand: off, on, numbers"),
    Key("make_rule", ("full_stop",), "new rule", "make a rule of your own from the line in hand"),
    Key(
        "change",
        ("t",),
        "today",
        "what is different about this day: no school, other bells, another lesson, a class away",
    ),
    Key("classes", ("k",), "class", "notes about a class: what it avoids and needs, how many it is"),
    *MOVES,
    Key(
        "change_line",
        ("slash", "grave_accent"),
        "wrong?",
        "what is wrong with the line: a class has 24, not 25; not for this class; not any more",
    ),
    Key("low", ("l",), "", "running low: goes to the order list; once more: plenty again"),
    Key("unfold", ("p",), "", "show or fold what is packed already"),
    Key("jump", ("j",), "", "after a number: jump to the line with this number; alone: to what must be decided"),
    Key("fill", ("minus",), "", "fill for the day, the week, the cycle: what later visits need as well"),
    Key("answer_done", ("y",), "", "answer the question on top: yes, or done; shows it first where it is out of sight"),
    Key("answer_missed", ("m",), "", "answer the question on top: no, or missed: it was not taught"),
    Key("answer_later", ("semicolon",), "", "a question about a room or a class: not now, not again that day"),
    Key("notices", ("i",), "", "everything to know about the day, one by one; w: why"),
    Key("more", ("tab",), "more", "the other pages: what is where, how far each class is, the cart sheet, colours"),
    Key("erase", ("backspace",), "", "erase the last digit"),
    Key("back", ("escape",), "", "leave a half-done step alone"),
    QUIT,
)
BACK = Key("back", ("b", "escape"), "back", "back to packing")
VISITS = (
    Key(
        "accept",
        ("enter",),
        "note it",
        "what was typed; with nothing typed, as planned and nobody missing. Counts need = or a number all the same",
    ),
    Key("begin_typing", ("space", "full_stop"), "type", "type a line; digits and most letters need no Space"),
    Key("line_before", ("up", "r"), "", "the visit before"),
    Key("line_after", ("down", "f"), "", "the next visit"),
    ERASE,
    Key("undo", ("u", "z"), "undo", "take back the newest step: all of one line"),
    Key("help", ("h",), "words", "this page: what can be typed"),
    Key("back", ("b", "escape"), "back", "back; while something is typed, Esc leaves that alone"),
    QUIT,
)
MATTERS = (
    Key("line_before", ("up", "r"), "", "the one above"),
    Key("line_after", ("down", "f"), "", "the one below"),
    *HEADINGS,
    Key(
        "begin_typing",
        ("space", "full_stop"),
        "",
        "type a number or numbers, then Enter; counts and class-list numbers need no Space",
    ),
    ERASE,
    Key(
        "accept",
        ("enter",),
        "",
        "what was typed; with nothing typed, on to the next open one: it never answers by itself",
    ),
    UNDO,
    Key("save_again", ("t",), "", "try again to save what could not be saved"),
    HELP,
    Key("why", ("w",), "why", "why it is asked, and what the answer is for"),
    Key("unfold", ("p",), "", "show or fold what is answered already"),
    BACK,
    QUIT,
)
CHANGED_DAY = (
    Key("accept", ("enter", "space"), "choose", "what is in hand; take what was typed"),
    Key("topic('no school')", ("n",), "no school", "school does not take place; once more: it does"),
    Key("topic('bells')", ("k",), "bells", "another bell schedule: delayed opening, early dismissal"),
    Key("topic('day')", ("d",), "day", "another day of the rotation was announced"),
    Key("topic('interruption')", ("a",), "assembly", "an assembly or a drill: from when to when, as 930 1030"),
    Key("topic('substitute')", ("s",), "substitute", "somebody else teaches for you; once more: you do"),
    Key("topic('no mess')", ("m",), "", "a day that must stay clean; once more: any day"),
    Key("topic('water')", ("w",), "", "no water, everywhere or in a room"),
    Key("topic('no cart')", ("c",), "", "no cart: everything is carried; once more: it is there"),
    Key("topic('elevator')", ("e",), "", "the elevator is out; once more: it works"),
    Key("topic('longer way')", ("l",), "", "a hall closed or a way longer: where, and minutes more, as B +2"),
    Key("topic('planning')", ("p",), "", "the planning period is lost; once more: it is not"),
    Key("topic('store')", ("o",), "", "the store is locked until a time"),
    Key("topic('gone')", ("g",), "", "you went home, or were ill: what came after was not taught"),
    Key("topic('testing')", ("x",), "", "grades are tested: which, in which periods, to which day"),
    UNDO,
    HELP,
    *ROWS,
    *HEADINGS,
    ERASE,
    Key("back", ("b", "escape", "t"), "back", "back to packing; while something is typed, leave that alone"),
    QUIT,
)
CHANGED_VISIT = (
    Key("accept", ("enter", "space"), "choose", "what is in hand; take what was typed"),
    Key("topic('away')", ("n",), "not visited", "the class is not visited on this day"),
    Key("topic('room')", ("m",), "room", "it is in another room"),
    Key("topic('part')", ("p",), "part", "another part of its own lesson is taught"),
    Key("topic('together')", ("j",), "together", "it joins another class of the day; both are taught as one"),
    Key("topic('children')", ("s",), "children", "how many come on this day"),
    UNDO,
    HELP,
    *ROWS,
    *HEADINGS,
    ERASE,
    STEP_BACK,
    QUIT,
)
MORE = (
    Key("accept", ("enter", "space"), "open", "open the page in hand; its digit does the same"),
    Key("line_before", ("up", "r"), "", "the one above"),
    Key("line_after", ("down", "f"), "", "the one below"),
    HELP,
    Key("back", ("b", "escape", "tab", "left"), "back", "back to packing"),
    QUIT,
)
ROUTE = (
    Key("accept", ("enter", "space"), "choose", "what you want otherwise at the row in hand; take a wish back"),
    Key("accept", ("enter",), "", "so many minutes is the walk in hand; Enter alone: as assumed", before="number"),
    Key("switch_span", ("g",), "for good", "what you say next holds for good; once more: today only"),
    Key("anew", ("a",), "best anew", "after a change: the best route for the rest of the day, however different"),
    Key("days", ("d",), "days", "the routes of the coming days, and what would help over the year"),
    UNDO,
    HELP,
    *ROWS,
    Key("section_after", ("right",), "", "the next stop at the store, or part of the page"),
    Key("section_before", ("left",), "", "the one before"),
    ERASE,
    STEP_BACK,
    QUIT,
)
ROUTE_WISHES = (
    Key("accept", ("enter", "space"), "choose", "the one in hand; its digit does the same"),
    Key("switch_span", ("g",), "for good", "it is to hold for good; once more: today only"),
    *ROWS,
    HELP,
    Key("back", ("b", "escape", "left"), "back", "back to the route, nothing is said"),
    QUIT,
)
VERSIONS = (
    Key("merge", ("m",), "merge", "everything of both as one; of two words on a thing the newer; both are kept"),
    Key("other", ("right", "c", "o"), "", "the next second version, where there are several"),
    *ROWS,
    HELP,
    Key("back", ("b", "escape", "left", "x", "n"), "leave it", "leave both as they are, and back"),
    QUIT,
)
LOOK_BACK = (
    Key("line_after", ("down", "f"), "down", "the row below"),
    Key("line_before", ("up", "r"), "up", "the row above"),
    Key("section_after", ("right", "c"), "next part", "the next grade or subject"),
    Key("section_before", ("left",), "", "the one before"),
    HELP,
    Key("back", ("b", "escape"), "back", "back to packing"),
    QUIT,
)
NEW_YEAR = (
    Key("begin_year", ("g",), "begin it", "begin this school year; u takes it back"),
    Key(
        "accept",
        ("enter", "space"),
        "take it",
        "take the date typed; on days off: last year's, 52 weeks on",
    ),
    Key("accept", ("enter",), "a date", "the month and the day, two digits each", before="number"),
    *ROWS,
    Key("erase", ("backspace",), "", "erase the last digit"),
    UNDO,
    HELP,
    Key("back", ("b", "escape", "left"), "back", "back; while something is typed, leave that alone"),
    QUIT,
)
GUIDE = (
    Key("page_after", ("enter", "space", "right", "down", "f"), "next page", "the next page; behind the last, back"),
    Key("page_before", ("left", "up", "r"), "page before", "the page before"),
    Key("back", ("b", "escape", "q"), "back", "back to where you were"),
)
CART_SHEET = (
    Key("keep", ("p",), "write it", "write the sheet into files for the printer"),
    Key("open_page", ("o",), "to print", "the same, and open the page in the browser, to print it there"),
    Key("open_text", ("x",), "as text", "the same, and open the plain text, for a printer that takes nothing else"),
)
GUIDE_FROM_HELP = Key("guide", ("g",), "the first morning, step by step", "the first morning, step by step")
LEAVING = (Key("leave", ("g",), "I go now", "you leave now; what is open is written down"), *MATTERS)
NOTICES = (
    Key("why", ("w", "enter", "space"), "why", "why it is said, by which rule, and how to change that"),
    Key("line_before", ("up", "r"), "", "the one above"),
    Key("line_after", ("down", "f", "right", "c"), "", "the one below"),
    HELP,
    Key("back", ("b", "escape", "i", "left"), "back", "back to packing"),
    QUIT,
)
DAY_END = (
    Key("visits", ("v",), "visits", "type in what came back, a line a visit"),
    Key("as_planned", ("a",), "as planned", "this visit went as planned, everybody there and done; never for sharps"),
    Key("all_back", ("equals_sign",), "", "what was counted out all came back"),
    Key("count_later", ("l",), "", "it could not be counted: it stays on top until it is"),
    Key("nobody", ("n",), "", "nobody missed it; 0 Enter says the same"),
    Key("close", ("c",), "close the day", "close the day; what is open is carried over"),
    *MATTERS,
)
CHOOSING = (
    Key("accept", ("enter",), "take it", "take the row in hand"),
    Key("line_before", ("up",), "", "the row above"),
    Key("line_after", ("down",), "", "the row below"),
    Key("erase", ("backspace",), "erase", "erase the last letter typed; with none typed, back"),
    Key("back", ("escape", "left"), "back", "back without taking anything"),
)
LINE_CHANGE = (
    Key("accept", ("enter", "space"), "choose", "the one in hand; its digit does the same"),
    *ROWS,
    HELP,
    Key("back", ("b", "escape", "left"), "back", "back to the list, nothing is changed"),
    QUIT,
)
TYPING = (
    Key("accept", ("enter",), "take it", "take what was typed"),
    Key("erase", ("backspace",), "erase", "erase the last sign typed; with none typed, back"),
    Key("back", ("escape",), "back", "back, nothing is changed"),
)
SET_UP_MENU = (
    Key("accept", ("enter",), "choose", "what was typed, or the first one"),
    Key("option_after", ("down",), "down", "the next one"),
    Key("option_before", ("up",), "up", "the one before"),
    Key("erase", ("backspace",), "", "erase the last letter typed"),
    Key("stop", ("tab",), "", "quit"),
)
ASKING = (
    Key("accept", ("enter",), "take it", "what was typed; with nothing typed the usual answer"),
    Key("back", ("escape",), "question before", "back to the question before, its answer ready to be taken again"),
    Key("stop", ("tab",), "stop for now", "stop here; everything answered is kept"),
    Key("option_after", ("down",), "", "the next of the answers to choose from"),
    Key("option_before", ("up",), "", "the one before"),
    Key("erase", ("backspace",), "erase", "erase the last letter typed"),
)
CLASS_NOTES = (
    Key("accept", ("enter", "space"), "say", "say more of the row in hand; take what was typed"),
    Key("begin('avoid')", ("a",), "avoids", "it must not come near something: the first letters, then Enter"),
    Key("begin('need')", ("n",), "needs", "so many children need something: the first letters, then how many"),
    Key("begin('size')", ("s",), "children", "how many children it has; a24 is about 24"),
    Key("begin('left')", ("l",), "left", "a child left: the class-list number; once more: it is there again"),
    Key("join", ("j",), "new child", "a new child: it gets the next number and is owed what it missed of the lesson"),
    Key("begin('adults')", ("t",), "adults", "adults in the room, you among them"),
    Key("begin('place')", ("p",), "part", "which part of its lesson is next, where it is not the one told"),
    Key("begin('has')", ("o",), "own", "what the room or the children have of their own"),
    Key("begin('adults today')", ("d",), "today", "adults in the room on this day only"),
    Key("begin('size today')", ("e",), "", "how many children come on this day only"),
    Key("remove", ("x",), "take off", "it need not avoid, or nobody needs, what is in hand any more"),
    UNDO,
    HELP,
    *ROWS,
    ERASE,
    STEP_BACK,
    QUIT,
)
RULES = (
    Key("accept", ("enter", "space"), "in full", "the rule in hand in full; take what was typed"),
    Key("switch_off", ("n", "x"), "off", "switch the rule in hand off; a digit then says for whom or until when"),
    Key("switch_on", ("y", "o"), "on", "switch it on again"),
    Key("until", ("d",), "", "until which day what is in hand stays switched off"),
    Key("settings", ("s",), "numbers", "the numbers the rules use, and yours"),
    Key("find", ("j",), "find", "find a rule by its first letters"),
    Key("take_out", ("t",), "", "take a rule of your own out again"),
    UNDO,
    HELP,
    *ROWS,
    Key("section_after", ("right",), "", "the next subject"),
    Key("section_before", ("left",), "", "the subject before"),
    ERASE,
    Key("back", ("b", "escape"), "back", "back; while something is typed or asked, leave that alone"),
    QUIT,
)
SETTINGS = (
    Key("accept", ("enter", "space"), "take it", "take the number that was typed"),
    Key("built_in", ("n", "x"), "built in", "back to the built-in number"),
    Key("find", ("j",), "find", "find a number by the first letters of what it means"),
    UNDO,
    HELP,
    *ROWS,
    Key("grade('K')", ("k",), "", "kindergarten, where a grade is asked for"),
    Key("grade('PK')", ("p",), "", "pre-kindergarten, where a grade is asked for"),
    Key("point", ("full_stop", "comma"), "", "a decimal point"),
    ERASE,
    STEP_BACK,
    QUIT,
)
BRING_IN = (
    Key("accept", ("enter", "space"), "choose", "what is in hand; its digit does the same"),
    *ROWS,
    UNDO,
    HELP,
    Key("back", ("b", "escape", "left"), "back", "back, nothing is brought in"),
    QUIT,
)
BRING_FROM = (
    Key("accept", ("enter",), "take it", "read the file in hand; nothing changes yet"),
    Key("line_before", ("up",), "", "the file above"),
    Key("line_after", ("down",), "", "the file below"),
    Key("erase", ("backspace",), "erase", "erase the last letter typed; with none typed, back"),
    Key("back", ("escape", "left"), "back", "back without taking anything"),
)
UNDERSTOOD = (
    Key("take_all", ("y",), "bring it in", "bring in what was understood; u takes it back"),
    Key("accept", ("enter", "space"), "this row", "leave the row in hand out, or take it all the same; once more: not"),
    *ROWS,
    *HEADINGS,
    UNDO,
    HELP,
    Key("back", ("b", "escape"), "back", "back; what is not brought in stays out"),
    QUIT,
)
OWN_RULE = (
    Key("accept", ("enter", "space"), "keep it", "keep the rule; with a number or a reason typed, take that first"),
    Key("accept", ("enter",), "so many", "so many for each child, pair, table or class", before="number"),
    Key("other_basis", ("p",), "per", "for each child, pair, table, class, or lesson"),
    Key("other_time", ("t",), "when", "the next time at which it may count"),
    Key("critical", ("c",), "critical", "critical, or not"),
    Key("reason", ("w",), "why", "why, in a line of your own; it stands beside the thing on the list"),
    HELP,
    Key("scroll(-1)", ("up", "r"), "", "up"),
    Key("scroll(1)", ("down", "f"), "", "down"),
    ERASE,
    Key("back", ("b", "escape"), "back", "back without a rule; while something is typed, leave that alone"),
    QUIT,
)
FORM = (
    Key("accept", ("enter", "space"), "change", "say the row in hand otherwise, or open it; take what was typed"),
    Key("clear", ("x",), "not said", "back to what holds where nothing is said"),
    Key("uses", ("w",), "used by", "all that uses this thing"),
    UNDO,
    HELP,
    *ROWS,
    *HEADINGS,
    ERASE,
    STEP_BACK,
    QUIT,
)
PLAN_LIST = (
    Key("accept", ("enter", "space"), "open", "open the row in hand; take what was typed; put down what is moved"),
    Key("add", ("a",), "add", "one more; what must be said of it is asked"),
    Key("add_empty", ("o",), "", "a lesson from nothing, where a starts from a usual one"),
    Key("copy", ("c",), "copy", "the row in hand once more, to be changed"),
    Key("rename", ("n",), "name", "another name; all that names it follows"),
    Key("move", ("m",), "move", "take the row in hand along with up and down; Enter puts it down"),
    Key("take_out", ("x",), "take out", "into the archive; what is there already is taken out for good"),
    Key("bring_back", ("y",), "", "out of the archive again"),
    Key("uses", ("w",), "used by", "all that uses the thing in hand"),
    Key("find", ("j",), "find", "go to a row by its first letters"),
    UNDO,
    HELP,
    *ROWS,
    *HEADINGS,
    ERASE,
    STEP_BACK,
    QUIT,
)
PLAN_SUBJECTS = (
    Key("accept", ("enter", "space"), "open", "open the row in hand; its digit does the same"),
    UNDO,
    HELP,
    *ROWS,
    *HEADINGS,
    STEP_BACK,
    QUIT,
)
TIMETABLE = (
    Key("accept", ("enter", "space"), "who comes", "the class of the period in hand: the first letters, then Enter"),
    Key("nobody", ("x",), "nobody", "nobody comes in this period"),
    Key("copy", ("c",), "copy a day", "the whole day as another one is"),
    UNDO,
    HELP,
    *ROWS,
    Key("section_after", ("right",), "next day", "the next day"),
    Key("section_before", ("left",), "", "the day before"),
    ERASE,
    STEP_BACK,
    QUIT,
)


START_ICON = (
    Key("accept", ("enter", "space"), "put it there", "put an icon into the place in hand; its digit does the same"),
    HELP,
    *ROWS,
    STEP_BACK,
    QUIT,
)
BACKUP = (
    Key("accept", ("enter", "space"), "do it", "back up into the place in hand; see what is in the backup in hand"),
    Key("put_back", ("y",), "put it back", "put back the backup that is shown"),
    Key("as_folder", ("o",), "file or folder", "as one file, or as a folder of files"),
    Key("type_path", ("t",), "other place", "type where: a folder to back up into, or a backup"),
    UNDO,
    HELP,
    *ROWS,
    *HEADINGS,
    ERASE,
    STEP_BACK,
    QUIT,
)
FIRST_BACKUP = (
    Key("accept", ("enter",), "show it", "what is in the backup in hand; take the path that was typed"),
    Key("put_back", ("y",), "", "put back the backup that is shown"),
    Key("line_before", ("up",), "", "the row above"),
    Key("line_after", ("down",), "", "the row below"),
    ERASE,
    Key("back", ("escape",), "back", "back; what is typed goes first"),
    Key("quit", ("tab",), "quit", "quit; nothing is changed"),
)


def bindings_of(table: tuple[Key, ...]) -> list[Binding]:
    """The bindings of a screen, digits included."""
    made = [Binding(key, row.action, row.meaning, show=False) for row in table if not row.before for key in row.keys]
    return made + [Binding(digit, f"digit('{digit}')", show=False) for digit in "0123456789"]
