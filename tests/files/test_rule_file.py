"""The file of her own rules: entries put in and taken out, every other sign of it as she wrote it."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec import structs

from checklists.files.plan_folder import read_plan
from checklists.files.rule_file import add_rule, add_switched_off, put_setting, take_switched_off_out
from checklists.files.safely import NotSaved
from checklists.files.toml_text import read_toml
from checklists.files.typed import records_from
from checklists.rules.records import Add, Rule, RuleFile, SwitchedOff, Warn
from checklists.words import clean
from tests.schools import write_small_school


def test_her_own_rules_are_added_to_and_never_reformatted(tmp_path: Path) -> None:
    folder = write_small_school(tmp_path)
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
    folder = write_small_school(tmp_path)
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


# ------------------------------------------------------------------------------------------------- by chance

WORDS = st.text(st.characters(exclude_categories=("Cs", "Cc", "Zl", "Zp")), min_size=1, max_size=30)
RULES_DRAWN = st.builds(
    Rule,
    id=WORDS.map(clean),
    title=WORDS.map(clean),
    when=st.lists(WORDS.map(clean), max_size=3).map(tuple),
    because=WORDS.map(clean),
    gives=st.lists(WORDS.map(clean), max_size=2).map(tuple),
    add=st.lists(
        st.builds(Add, supply=WORDS.map(clean), count=st.integers(0, 99), critical=st.booleans()), max_size=2
    ).map(tuple),
    cautions=st.lists(st.builds(Warn, text=WORDS.map(clean)), max_size=2).map(tuple),
    safety=st.booleans(),
)
OFF_DRAWN = st.builds(
    SwitchedOff,
    rule=WORDS.map(clean),
    class_id=st.one_of(st.just(""), WORDS.map(clean)),
    until=st.none() | st.dates(date(2026, 1, 1), date(2027, 12, 31)),
    reason=st.one_of(st.just(""), WORDS.map(clean)),
)
REMARKS = st.sampled_from(["", "# mine\n", "\n\n", "# [[off]]\n", '# rule = "x"\n', "  # a remark\n"])
BEFORE = st.lists(st.tuples(REMARKS, st.one_of(RULES_DRAWN, OFF_DRAWN)), max_size=4)


@settings(deadline=None, max_examples=60)
@given(
    st.lists(st.tuples(REMARKS, st.one_of(RULES_DRAWN, OFF_DRAWN)), max_size=4),
    RULES_DRAWN,
    st.booleans(),
    st.booleans(),
)
def test_any_rule_is_added_behind_what_was_there_which_stays_to_the_last_byte(
    before: list[tuple[str, Rule | SwitchedOff]], rule: Rule, windows: bool, cut: bool
) -> None:
    with TemporaryDirectory() as name:
        folder = written_by_hand(Path(name), before, windows=windows, cut=cut)
        there, old = as_read(folder), (folder / "rules.toml").read_bytes()
        add_rule(folder, rule)
        new = (folder / "rules.toml").read_bytes()
        assert new.startswith(old)
        assert as_read(folder) == structs.replace(there, rules=(*there.rules, rule))


@settings(deadline=None, max_examples=60)
@given(
    st.lists(st.tuples(REMARKS, st.one_of(RULES_DRAWN, OFF_DRAWN)), max_size=4), OFF_DRAWN, st.booleans(), st.booleans()
)
def test_off_and_on_again_says_what_was_said_before_and_leaves_the_bytes(
    before: list[tuple[str, Rule | SwitchedOff]], off: SwitchedOff, windows: bool, cut: bool
) -> None:
    with TemporaryDirectory() as name:
        folder = written_by_hand(Path(name), before, windows=windows, cut=cut)
        there, old = as_read(folder), (folder / "rules.toml").read_bytes()
        add_switched_off(folder, off)
        take_switched_off_out(folder, off)
        assert as_read(folder) == structs.replace(there, off=tuple(each for each in there.off if each != off))
        if off not in there.off:
            assert (folder / "rules.toml").read_bytes().startswith(old)


def written_by_hand(folder: Path, entries: list[tuple[str, Rule | SwitchedOff]], *, windows: bool, cut: bool) -> Path:
    """A file as somebody may have written it: remarks between entries, ends of lines, perhaps no last line end."""
    text = ""
    for remark, entry in entries:
        (folder / "rules.toml").write_text("", encoding="utf-8")
        if isinstance(entry, Rule):
            add_rule(folder, entry)
        else:
            add_switched_off(folder, entry)
        text += remark + stands(folder)
    text = text[:-1] if cut else text
    return written(folder, text.replace("\n", "\r\n") if windows else text)


# -------------------------------------------------------------------------------------------------- settings


@pytest.mark.parametrize(
    "text",
    [
        "",
        "# mine\n[settings]\n# of paper\nspare = 2  # two\n\n[[off]]\nrule = 'x'\n",
        "settings = { spare = 2, other = 3 }  # both\n",
        "settings.spare = 2\nsettings.other = 3\n[[off]]\nrule = 'x'",
        "[settings]\n",
        "[[off]]\nrule = 'x'",
        "settings = {}\n",
    ],
)
@pytest.mark.parametrize("end", ["\n", "\r\n"])
def test_a_setting_is_put_in_changed_and_taken_out_and_nothing_else(tmp_path: Path, text: str, end: str) -> None:
    folder = written(tmp_path, text.replace("\n", end))
    before = as_read(folder)
    for value in (7, 0.5, "K"):
        put_setting(folder, "spare", value)
        assert as_read(folder) == structs.replace(before, settings={**before.settings, "spare": value})
        for remark in ("# mine", "# of paper", "# two", "# both", "rule = 'x'"):
            assert (remark in stands(folder)) == (remark in text)
    put_setting(folder, "spare", None)
    assert as_read(folder).settings == {name: each for name, each in before.settings.items() if name != "spare"}
    assert as_read(folder).off == before.off
    assert not text or stands(folder).count("\n") == stands(folder).count(end)
    left = stands(folder)
    put_setting(folder, "spare", None)
    assert stands(folder) == left
