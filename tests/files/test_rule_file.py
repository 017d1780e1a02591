"""The file of her own rules: entries put in and taken out, every other sign of it as she wrote it."""

from __future__ import annotations

from pathlib import Path

import pytest

from checklists.files.plan_folder import read_plan
from checklists.files.rule_file import add_rule, add_switched_off, take_switched_off_out
from checklists.files.safely import NotSaved
from checklists.files.toml_text import read_toml
from checklists.files.typed import records_from
from checklists.rules.records import Rule, RuleFile, SwitchedOff, Warn
from tests.schools import small_school


def test_her_own_rules_are_added_to_and_never_reformatted(tmp_path: Path) -> None:
    folder = small_school(tmp_path)
    own = (
        '# mine\n[[rules]]\nid="a"   # the first\ntitle = "A"\nwhen = [ "wet" ]\nbecause = "b"\ngives = ["messy day"]\n'
    )
    (folder / "rules.toml").write_text(own, encoding="utf-8")
    warn = Warn(
        text="Take the long way round by the gym: the short corridor is being painted this week, and it is wet."
    )
    add_rule(folder, Rule(id="c", title="C", when=("messy day",), because="d", cautions=(warn,)))
    add_switched_off(folder, SwitchedOff(rule="c", class_id="3-B"))
    assert (folder / "rules.toml").read_text(encoding="utf-8").startswith(own)
    read = read_plan(folder)
    assert [each.id for each in read.own_rules.rules] == ["a", "c"]
    assert read.own_rules.rules[1].cautions == (warn,)
    assert read.own_rules.off == (SwitchedOff(rule="c", class_id="3-B"),)


def test_the_first_rule_of_her_own_makes_the_file(tmp_path: Path) -> None:
    folder = small_school(tmp_path)
    add_switched_off(folder, SwitchedOff(rule="x", reason="we have no sink"))
    assert read_plan(folder).own_rules.off == (SwitchedOff(rule="x", reason="we have no sink"),)


@pytest.mark.parametrize("text", ["rules = [\n", "unknown = 1\n", "off = [{ rule = [3] }]\n"])
def test_a_rule_file_that_does_not_read_is_left_as_it_is(tmp_path: Path, text: str) -> None:
    (tmp_path / "rules.toml").write_text(text, encoding="utf-8")
    with pytest.raises(NotSaved, match="does not read"):
        add_switched_off(tmp_path, SwitchedOff(rule="x"))
    assert (tmp_path / "rules.toml").read_text(encoding="utf-8") == text


TWO = SwitchedOff(rule="b", class_id="3-B", reason="they have their own")
SEVERAL = {
    "under headings": '# mine\n[[off]]\nrule = "a"  # one\n\n# of b\n[[off]]\n# inside\nrule = "b"\nclass_id = "3-B"'
    '\nreason = "they have their own" # yes\n\n# of c\n[[off]]\nrule = "c"\n',
    "in brackets": 'off = [{ rule = "a" }, { rule = "b", class_id = "3-B", reason = "they have their own" }, '
    '{ rule = "c" }]  # three\n',
    "in brackets, a line each": 'off = [\n    { rule = "a" },  # one\n    { rule = "b", class_id = "3-B", '
    'reason = "they have their own" },\n    { rule = "c" }  # no comma\n]\n\n[[rules]]\nid = "x"\ntitle = "X"'
    '\nwhen = ["wet"]\nbecause = "x"\ngives = ["y"]\n',
}


def written(folder: Path, text: str) -> Path:
    (folder / "rules.toml").write_bytes(text.encode())
    return folder


def as_read(folder: Path) -> RuleFile:
    """The file alone, whether or not there are such rules."""
    record, problems = records_from(read_toml(folder / "rules.toml", "rules.toml").data or {}, RuleFile, file="")
    assert record is not None, problems
    return record


def stands(folder: Path) -> str:
    return (folder / "rules.toml").read_bytes().decode()


@pytest.mark.parametrize("text", SEVERAL.values(), ids=SEVERAL)
@pytest.mark.parametrize("end", ["\n", "\r\n"])
def test_switched_on_again_the_entry_is_gone_and_every_other_sign_is_left(tmp_path: Path, text: str, end: str) -> None:
    text = text.replace("\n", end)
    take_switched_off_out(written(tmp_path, text), TWO)
    left = stands(tmp_path)
    assert "3-B" not in left
    assert "they have their own" not in left
    for kept in ("# one", "# of c", "# three", "# no comma", 'rule = "a"', 'rule = "c"', "# mine", 'id = "x"'):
        assert (kept in left) == (kept in text)
    same = next((n for n, sign in enumerate(left) if text[n] != sign), len(left))
    assert left[same:] == text[same + len(text) - len(left) :], "more than one stretch was taken out"
    assert left.count("\n") == left.count(end)


@pytest.mark.parametrize("text", [*SEVERAL.values(), "off = []\n", "off = [\n]\n", 'off = [{ rule = "a" }]', ""])
@pytest.mark.parametrize("end", ["\n", "\r\n"])
def test_what_is_added_leaves_every_other_sign_and_reads_as_the_last_entry(tmp_path: Path, text: str, end: str) -> None:
    folder = written(tmp_path, text.replace("\n", end))
    before = as_read(folder).off
    added = SwitchedOff(rule="last", lesson="paper-hills", reason='"every" table \\ has its own')
    add_switched_off(folder, added)
    assert as_read(folder).off == (*before, added)
    now = stands(folder)
    assert not text or now.count("\n") == now.count(end)
    take_switched_off_out(folder, added)
    assert as_read(folder).off == before
    assert len(stands(folder)) - len(text.replace("\n", end)) <= 2 * len(end)
