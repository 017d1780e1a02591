"""The command that shows rules: by subject, her own, what is off, the settings, or one in full."""

from __future__ import annotations

from checklists.commandline.looking import status_of
from checklists.commandline.opening import open_book
from checklists.commandline.output import say, say_json
from checklists.commandline.request import NotUnderstood, Request
from checklists.commandline.rule_finding import find_rule
from checklists.own_rules.off import off_entries
from checklists.own_rules.subjects import OWN, rules_by_subject
from checklists.own_rules.telling import tell_rule
from checklists.pages import rules as pages
from checklists.pages import rules_as_json
from checklists.rules.read import settings_of


def show_rules(request: Request) -> int:
    """The rules as asked for; without anything all of them by subject."""
    asked = {"--own": request.own, "--off": request.off, "--settings": request.settings, "--why": bool(request.why)}
    given = [name for name, is_given in asked.items() if is_given]
    if len(given) > 1:
        raise NotUnderstood(f"{given[0]} and {given[1]} are two pages. Give one of them.")
    with open_book(request) as book:
        own = frozenset(each.id for each in book.own_rules.rules)
        off = off_entries(book, request.date or request.now.date())
        private = frozenset(each.id for each in book.rules.rules if each.private)
        shown_off = [each for each in off if request.private or each.comes_off or each.entry.rule not in private]
        hidden = len(off) - len(shown_off)
        if request.why:
            rule = find_rule(request.why, book.rules)
            told = tell_rule(rule, book.plan, book.rules, own=rule.id in own)
            mine = [each for each in shown_off if each.entry.rule == rule.id and not each.comes_off]
            text, fields = pages.rule_page(told, mine), rules_as_json.rule_as_json(told, mine)
        elif request.off:
            text, fields = pages.off_page(shown_off, hidden), rules_as_json.off_as_json(shown_off, hidden)
        elif request.settings:
            settings = settings_of(book.rules)
            text, fields = pages.settings_page(settings), rules_as_json.settings_as_json(settings)
        else:
            subjects = rules_by_subject(book.rules, own)
            if request.own:
                subjects = {OWN: subjects.get(OWN, [])}
            text = pages.rules_page(subjects, shown_off)
            told_all = {
                subject: [tell_rule(each, book.plan, book.rules, own=each.id in own) for each in rules]
                for subject, rules in subjects.items()
            }
            fields = rules_as_json.rules_as_json(told_all, shown_off, hidden)
        if request.json:
            say_json(fields)
        else:
            say(text)
        return status_of(False, book.problems)
