"""The numbers of the rules as rows: what each means, the value in use, and beside hers the built-in one."""

from __future__ import annotations

from collections.abc import Iterable

from checklists.rules.records import Setting
from checklists.rules.setting_typed import said_number
from tui.rows import Row
from tui.rule_rows import begins


def setting_rows(settings: Iterable[Setting], typed: str = "") -> list[Row]:
    """Every number, or those that have words beginning with what was typed."""
    return [
        Row("matter", each.name, each.meaning, state=value_text(each), mark="yours" if is_hers(each) else "")
        for each in settings
        if begins(each.meaning, typed)
    ]


def value_text(setting: Setting) -> str:
    """ "4", and "6 (built in 4)" for hers."""
    value = said_number(setting, setting.value)
    return f"{value} (built in {said_number(setting, setting.builtin)})" if is_hers(setting) else value


def is_hers(setting: Setting) -> bool:
    return setting.value != setting.builtin
