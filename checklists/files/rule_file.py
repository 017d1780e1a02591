"""Her own rules in rules.toml: one entry put in or taken out, every other sign of the file left as it is.

What is new goes to the end; what is taken out goes with the remarks inside it, and nothing else goes. Before a file is
replaced its new text is read, and where it does not say exactly what was there before with the one change, nothing is
written: NotSaved says which line to change by hand.
"""

from __future__ import annotations

from datetime import date, datetime
from pathlib import Path
from typing import Any, Literal

import msgspec

from checklists.files.plan_folder import RULES
from checklists.files.safely import NotSaved, replace_file
from checklists.files.toml_text import read_toml_bytes
from checklists.files.typed import cleaned, records_from
from checklists.files.where import Places, TomlPath, places_of
from checklists.rules.read import read_builtin_rules
from checklists.rules.records import Rule, RuleFile, SwitchedOff, SwitchedOn

Value = float | Literal["K", "PK"]
"""What a setting may be: a number, or a grade."""

_HEAD = "# Rules of your own. Trundle adds to this file and leaves what is there as it is.\n"
_MARK = "\ufeff"
"""What some editors put before the first sign of a file."""


def add_rule(folder: Path, rule: Rule) -> None:
    """Add a rule to the end of rules.toml. Raises NotSaved, and then the file is as it was; so do all of these."""
    _add(folder, "rules", rule)


def add_switched_off(folder: Path, off: SwitchedOff) -> None:
    """Add to the end of rules.toml that a rule does not apply."""
    _add(folder, "off", off)


def add_switched_on(folder: Path, on: SwitchedOn) -> None:
    """Add to the end of rules.toml that a rule which comes switched off is used."""
    _add(folder, "on", on)


def take_switched_on_out(folder: Path, on: SwitchedOn) -> None:
    """Take it out again that a rule which comes switched off is used."""
    _take_out(folder, "on", on)


def take_rule_out(folder: Path, ident: str) -> None:
    """Take a rule of her own out of rules.toml, with what switches it off where no other rule has its id."""
    old = _text_of(folder)
    there = _read(old)
    index = next((n for n, each in enumerate(there.rules) if each.id == ident), None)
    if index is None:
        raise NotSaved(f'There is no rule "{ident}" in {RULES}.')
    meant = without_rule(there, ident)
    new = _without(old, places_of(old), "rules", index)
    for n in reversed([n for n, each in enumerate(there.off) if each not in meant.off]):
        new = _without(new, places_of(new), "off", n)
    _replace(folder, new, meant, f'Take the rule "{ident}" out of it by hand.')


def without_rule(own: RuleFile, ident: str) -> RuleFile:
    """The file without the first rule of that id, and without what switches it off where it is the only one."""
    index = next((n for n, each in enumerate(own.rules) if each.id == ident), len(own.rules))
    rules = (*own.rules[:index], *own.rules[index + 1 :])
    is_gone = ident not in {each.id for each in (*rules, *read_builtin_rules())}
    off = tuple(each for each in own.off if not is_gone or each.rule != ident)
    return msgspec.structs.replace(own, rules=rules, off=off)


def take_switched_off_out(folder: Path, off: SwitchedOff) -> None:
    """Take the entry, and any that says the very same, out of rules.toml, so that the rule applies again."""
    _take_out(folder, "off", off)


def put_setting(folder: Path, name: str, value: Value | None) -> None:
    """Set a setting, or with None take it out, so that what is built in counts again."""
    old = _text_of(folder)
    there = _read(old)
    settings = {key: each for key, each in there.settings.items() if key != name}
    if value is not None:
        settings[name] = value
    elif name not in there.settings:
        return
    places = places_of(old)
    new = _without_setting(old, places, name) if value is None else _with_setting(old, places, name, value)
    to_do = f'Write "{name}" under a line of its own, "[settings]", by hand.'
    _replace(folder, new, msgspec.structs.replace(there, settings=settings), to_do)


def text_with_names(folder: Path, meant: RuleFile) -> str:
    """What is to stand in rules.toml when something that rules name was renamed; every other sign stays.

    ``meant`` is the file as read but for conditions of rules and the class for which one is switched off. Raises
    NotSaved where it is written in a way that cannot be changed from here.
    """
    text = _text_of(folder)
    there = _read(text)
    words: dict[TomlPath, str] = {}
    for n, (was, now) in enumerate(zip(there.rules, meant.rules, strict=True)):
        same = enumerate(zip(was.when, now.when, strict=True))
        words |= {("rules", n, "when", i): after for i, (before, after) in same if before != after}
    for n, (off, off_now) in enumerate(zip(there.off, meant.off, strict=True)):
        if off.class_id != off_now.class_id:
            words["off", n, "class_id"] = off_now.class_id
    places = places_of(text)
    found = [(places.values.get(path) or places.things.get(path), each) for path, each in words.items()]
    for place, each in sorted(found, key=lambda one: one[0] or (0, 0), reverse=True):
        if place is not None:
            text = text[: place[0]] + _inline(each) + text[place[1] :]
    _must_say(text, meant, "Write the new name into it by hand.")
    return text


# --------------------------------------------------------------------------------------------------- the file


def _text_of(folder: Path) -> str:
    """What stands in the file, with its own line ends; the head of a new one where there is none."""
    try:
        return (folder / RULES).read_bytes().decode("utf-8").removeprefix(_MARK)
    except FileNotFoundError:
        return _HEAD
    except (OSError, UnicodeDecodeError) as error:
        raise NotSaved(f"{RULES} cannot be read, so nothing was changed in it.") from error


def _read(text: str) -> RuleFile:
    record = _record_of(text)
    if record is None:
        raise NotSaved(f"{RULES} does not read, so nothing was changed in it. trundle check says what to put right.")
    return record


def _record_of(text: str) -> RuleFile | None:
    data = read_toml_bytes(text.encode(), RULES).data
    return None if data is None else records_from(data, RuleFile, file=RULES)[0]


def _must_say(text: str, meant: RuleFile, to_do: str) -> None:
    record = _record_of(text)
    if record is None or _as_table(record) != _as_table(meant):
        raise NotSaved(f"{RULES} is written in a way that cannot be changed from here. {to_do}")


def _replace(folder: Path, text: str, meant: RuleFile, to_do: str) -> None:
    _must_say(text, meant, to_do)
    path = folder / RULES
    try:
        is_marked = path.exists() and path.read_bytes().startswith(_MARK.encode())
    except OSError as error:
        raise NotSaved(f"{RULES} cannot be read, so nothing was changed in it.") from error
    replace_file(path, ((_MARK if is_marked else "") + text).encode())


# ----------------------------------------------------------------------------------------------------- adding


def _add(folder: Path, where: str, record: Rule | SwitchedOff | SwitchedOn) -> None:
    old = _text_of(folder)
    there = _read(old)
    table = _as_table(record)
    places = places_of(old)
    if (where,) in places.values:
        new = _with_in_list(old, places, where, len(getattr(there, where)), _inline(table))
    else:
        new = _with_at_end(old, _as_entry(where, table))
    meant = msgspec.structs.replace(there, **{where: (*getattr(there, where), record)})
    _replace(folder, new, meant, f'Put each entry under a line of its own: "[[{where}]]".')


def _with_at_end(text: str, entry: str) -> str:
    """The entry behind everything, a blank line before it."""
    end = _line_end(text)
    gap = "" if not text or text.endswith(("\n\n", "\n\r\n")) else end
    if text and not text.endswith("\n"):
        gap = end + end
    return text + gap + entry.replace("\n", end)


def _with_in_list(text: str, places: Places, where: str, count: int, entry: str) -> str:
    """The entry as the last one of a list in brackets, on a line of its own where the others stand on theirs."""
    first, behind = places.values[where,]
    if not count:
        return text[: first + 1] + entry + text[first + 1 :]
    start, end = places.things[where, count - 1]
    comma = len(text[end:]) - len(text[end:].lstrip())
    has_comma = text.startswith(",", end + comma)
    line_end = text.find("\n", end, behind)
    if line_end < 0:
        after = end + comma + 1 if has_comma else end
        return text[:after] + (" " if has_comma else ", ") + entry + ("," if has_comma else "") + text[after:]
    line_start = text.rfind("\n", 0, start) + 1
    before = text[line_start:start]
    margin = before if not before.strip() else ""
    ended = line_end - 1 if text[line_end - 1] == "\r" else line_end
    head = text[:ended] if has_comma else f"{text[:end]},{text[end:ended]}"
    return f"{head}{_line_end(text)}{margin}{entry},{text[ended:]}"


def _line_end(text: str) -> str:
    return "\r\n" if "\r\n" in text else "\n"


def _as_table(record: msgspec.Struct) -> dict[str, Any]:
    table = cleaned(msgspec.to_builtins(record, builtin_types=(date, datetime)))
    assert isinstance(table, dict)
    return table


def _as_entry(where: str, table: dict[str, Any]) -> str:
    """One entry under a heading of its own: a list in brackets could not be added to."""
    from tomli_w import dumps

    text = dumps({where: [table]})
    return text if text.startswith("[[") else f"[[{where}]]\n{dumps(table)}"


def _inline(value: Any) -> str:
    """The same on one line, for a list in brackets."""
    from tomli_w import dumps

    if isinstance(value, dict):
        return (
            "{ "
            + ", ".join(f"{dumps({key: 0}).partition(' = ')[0]} = {_inline(each)}" for key, each in value.items())
            + " }"
        )
    if isinstance(value, list | tuple):
        return "[" + ", ".join(_inline(each) for each in value) + "]"
    return dumps({"x": value}).removeprefix("x = ").rstrip("\n")


# ------------------------------------------------------------------------------------------------- taking out


def _take_out(folder: Path, where: str, entry: SwitchedOff | SwitchedOn) -> None:
    old = _text_of(folder)
    there = _read(old)
    every = getattr(there, where)
    if entry not in every:
        raise NotSaved(f'{RULES} does not switch "{entry.rule}" {where} like that.')
    new = old
    for index in reversed([n for n, each in enumerate(every) if each == entry]):
        new = _without(new, places_of(new), where, index)
    kept = tuple(each for each in every if each != entry)
    to_do = f'Take the entry of "{entry.rule}" out of it by hand.'
    _replace(folder, new, msgspec.structs.replace(there, **{where: kept}), to_do)


def _without(text: str, places: Places, where: str, index: int) -> str:
    """The text without one entry of a list, written under a heading of its own or in brackets."""
    place = places.things.get((where, index))
    if place is None:
        return text
    if (where,) not in places.values:
        return _without_lines(text, *place)
    start, end = place
    after = end + len(text[end:]) - len(text[end:].lstrip())
    has_comma = text.startswith(",", after)
    end = after + 1 if has_comma else end
    line_start = text.rfind("\n", 0, start) + 1
    is_alone = not text[line_start:start].strip() and text[end:].lstrip(" \t")[:1] in ("#", "\r", "\n")
    if is_alone:
        return _without_lines(text, start, end)
    if has_comma:
        return text[:start] + text[end:].lstrip(" \t")
    return text[:start].rstrip().removesuffix(",") + text[end:]


def _without_lines(text: str, start: int, end: int) -> str:
    """The text without the lines from ``start`` to ``end``, a remark behind the last one included."""
    start = text.rfind("\n", 0, start) + 1
    line_end = text.find("\n", end)
    return text[:start] + (text[line_end + 1 :] if line_end >= 0 else "")


# ------------------------------------------------------------------------------------------------- a setting


def _with_setting(text: str, places: Places, name: str, value: Value) -> str:
    from tomli_w import dumps

    line = dumps({name: value}).rstrip("\n")
    path = ("settings", name)
    if path in places.values:
        start, end = places.values[path]
        return text[:start] + line.split("=", 1)[1].strip() + text[end:]
    if ("settings",) in places.values:  # settings = { … }
        at = places.values["settings",][1] - 1
        inside = text[places.values["settings",][0] + 1 : at].strip()
        return text[:at].rstrip() + (", " if inside else " ") + line + " " + text[at:]
    if ("settings",) in places.things:
        return _with_line_behind(text, places.things["settings",][1], line)
    dotted = [place for path, place in places.things.items() if path[0] == "settings" and len(path) == 2]
    if dotted:
        return _with_line_behind(text, dotted[-1][1], f"settings.{line}")
    return _with_at_end(text, f"[settings]\n{line}\n")


def _with_line_behind(text: str, place: int, line: str) -> str:
    """The text with a line behind the one in which ``place`` is."""
    end = _line_end(text)
    at = text.find("\n", place)
    return text + end + line + end if at < 0 else text[: at + 1] + line + end + text[at + 1 :]


def _without_setting(text: str, places: Places, name: str) -> str:
    place = places.things.get(("settings", name))
    if place is None:
        return text
    if ("settings",) not in places.values:
        return _without_lines(text, *place)
    start, end = place
    behind = len(text[end:]) - len(text[end:].lstrip())
    if text.startswith(",", end + behind):
        return text[:start] + text[end + behind + 1 :].lstrip(" \t")
    before = text[:start].rstrip()
    return before.removesuffix(",") + " " + text[end:].lstrip(" \t")
