"""Rules as JSON objects for scripts. These fields stay as they are; new ones may be added.

Pages "rules", "rule", "off", "settings": what `trundle rules` shows. Page "rule" after a change, and "set": what was
done (``did``), whether it was written, and ``preview``: ``first last school_days lines others totals first_later``. A
line of it: ``date what container supply name before after visits``. Private ones are left out and counted in
``private_left_out`` unless they were asked for.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from checklists.own_rules.off import OffEntry
from checklists.own_rules.preview import Preview
from checklists.own_rules.telling import RuleTold
from checklists.pages.as_json import FORMAT
from checklists.pages.fields import Fields
from checklists.rules.records import Setting


def rules_as_json(subjects: Mapping[str, Sequence[RuleTold]], off: Iterable[OffEntry], hidden: int) -> Fields:
    """The page "rules": every rule with its subject, and what is off."""
    rules = [{"subject": subject, **_told(each)} for subject, every in subjects.items() for each in every]
    return {**_begin("rules"), "rules": rules, "off": [_off(each) for each in off], "private_left_out": hidden}


def rule_as_json(rule: RuleTold, off: Iterable[OffEntry]) -> Fields:
    """The page "rule": one in full."""
    return {**_begin("rule"), **_told(rule), "off": [_off(each) for each in off]}


def off_as_json(off: Iterable[OffEntry], hidden: int) -> Fields:
    """The page "off"."""
    return {**_begin("off"), "off": [_off(each) for each in off], "private_left_out": hidden}


def settings_as_json(settings: Iterable[Setting]) -> Fields:
    """The page "settings"."""
    fields = ("name", "value", "builtin", "meaning", "least", "most", "whole", "source")
    return {**_begin("settings"), "settings": [{name: getattr(each, name) for name in fields} for each in settings]}


def changed_rules_as_json(
    page: str, said: str, ident: str, preview: Preview, *, written: bool, private: bool
) -> Fields:
    """What was done or would be."""
    return {**_begin(page), "did": said, "id": ident, "written": written, "preview": _preview(preview, private)}


def _begin(page: str) -> Fields:
    return {"format": FORMAT, "page": page}


def _told(rule: RuleTold) -> Fields:
    return {
        "id": rule.id,
        "title": rule.title,
        "asks": rule.asks,
        "does": list(rule.does),
        "because": rule.because,
        "source": rule.source,
        "own": rule.own,
        "safety": rule.safety,
        "private": rule.private,
        "on": rule.on,
    }


def _off(entry: OffEntry) -> Fields:
    return {
        "rule": entry.entry.rule,
        "title": entry.title,
        "class": entry.entry.class_id,
        "lesson": entry.entry.lesson,
        "since": entry.since.isoformat() if entry.since is not None else None,
        "until": entry.until.isoformat() if entry.until is not None else None,
        "reason": entry.reason,
        "safety": entry.safety,
        "over": entry.is_over,
        "comes_off": entry.comes_off,
    }


def _preview(preview: Preview, private: bool) -> Fields:
    lines = [each for each in preview.lines if private or not each.private]
    others = [each for each in preview.others if private or not each.private]
    shown = {each.supply for each in lines}
    return {
        "first": preview.first.isoformat(),
        "last": preview.last.isoformat(),
        "school_days": preview.school_days,
        "lines": [
            {
                "date": each.date.isoformat(),
                "what": each.what,
                "container": each.container,
                "supply": each.supply,
                "name": each.name,
                "before": each.before,
                "after": each.after,
                "visits": list(each.visits),
            }
            for each in lines
        ],
        "others": [
            {
                "date": each.date.isoformat(),
                "what": each.what,
                "kind": each.kind,
                "text": each.text,
                "visit": each.visit,
            }
            for each in others
        ],
        "totals": [
            {"supply": each.supply, "name": each.name, "days": each.days, "before": each.before, "after": each.after}
            for each in preview.totals
            if each.supply in shown
        ],
        "first_later": preview.first_later.isoformat() if preview.first_later is not None else None,
        "private_left_out": len(preview.lines) + len(preview.others) - len(lines) - len(others),
    }
