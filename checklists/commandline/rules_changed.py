"""The commands that change rules: one of her own made or taken out, any switched off or on, a number set."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date

from checklists.book import Book
from checklists.commandline.finding import find_class, find_supply
from checklists.commandline.opening import open_book
from checklists.commandline.output import say, say_json
from checklists.commandline.request import NotUnderstood, Request
from checklists.commandline.rule_finding import conditions_of, find_lesson, find_rule, find_setting, need_sentence
from checklists.commandline.rule_values import read_amount, read_setting
from checklists.own_rules.choices import Choice, rule_from, say_choice
from checklists.own_rules.off import say_for_whom
from checklists.own_rules.preview import preview_of
from checklists.own_rules.trying import rules_less, rules_set, rules_used_again, rules_with, rules_without
from checklists.pages.rules import changed_rules_page
from checklists.pages.rules_as_json import changed_rules_as_json
from checklists.rules.read import RuleSet
from checklists.rules.records import Rule, SwitchedOff
from checklists.rules.settings import say_setting
from checklists.words import nearest, say_date

_MAKING = ("add", "never", "spare")
_SWITCHING = ("off", "on", "remove")


def change_rule(request: Request) -> int:
    """Make a rule, switch one off or on, or take one out; with `--try` only show what that would do."""
    verb, *words = request.words
    verb = verb.casefold()
    if verb not in (*_MAKING, *_SWITCHING):
        near = nearest(verb, (*_MAKING, *_SWITCHING))
        meant = f" Did you mean trundle rule {near}?" if near else ""
        raise NotUnderstood(f"Behind trundle rule stands add, never, spare, off, on or remove, not {verb}.{meant}")
    _refuse_what_does_not_go_with(verb, request)
    with open_book(request, write=not request.trial) as book:
        if verb in _MAKING:
            return _make(request, book, verb, words)
        rule = find_rule(" ".join(words), book.rules)
        if verb == "remove":
            return _remove(request, book, rule)
        if verb == "off":
            return _switch_off(request, book, rule)
        return _switch_on(request, book, rule)


def _refuse_what_does_not_go_with(verb: str, request: Request) -> None:
    making = {
        "--per": request.per != "class",
        "--critical": request.critical,
        "--when": bool(request.when),
        "--grade": bool(request.grade),
        "--need": bool(request.need),
        "--instead": bool(request.instead),
    }
    wrong = [name for name, given in making.items() if given and verb in _SWITCHING]
    if verb != "add":
        wrong += [name for name in ("--per", "--critical") if making[name]]
    if verb != "never" and making["--instead"]:
        wrong.append("--instead")
    if request.until is not None and verb != "off":
        wrong.append("--until")
    if wrong:
        raise NotUnderstood(f"{wrong[0]} has no meaning with trundle rule {verb}. See trundle rule --help.")


# -------------------------------------------------------------------------------------------------------- made


def _make(request: Request, book: Book, verb: str, words: list[str]) -> int:
    choice = _choice(request, book, verb, words)
    rule = rule_from(choice, book.plan, book.rules, _today(request))
    after = rules_with(book, rule)
    said = f"{say_choice(choice, book.plan, book.rules)}. Its id: {rule.id}."
    return _change(request, book, after, said, rule.id, lambda: book.keep_rule(rule))


def _choice(request: Request, book: Book, verb: str, words: list[str]) -> Choice:
    count = 1.0
    if verb != "never" and len(words) > 1 and words[-1][:1].isdigit():
        try:
            count = read_amount(words[-1])
        except ValueError as problem:
            if verb == "spare":
                raise NotUnderstood(f"{words[-1]} {problem}.") from None
        else:
            words = words[:-1]
    elif verb == "spare":
        raise NotUnderstood("Say how many to spare: trundle rule spare white-12x18 8.")
    supply = find_supply(" ".join(words), book.plan.supplies)
    instead = find_supply(request.instead, book.plan.supplies).id if request.instead else ""
    if verb == "add" and not count:
        raise NotUnderstood("A rule that adds nothing does nothing; say a number above 0.")
    if request.per == "need" and not request.need:
        raise NotUnderstood("Say which need: trundle rule add soft-grip 1 --per need --need fine-motor.")
    per = need_sentence(request.need) if request.per == "need" else request.per
    when = conditions_of(request, book)
    return Choice(verb, supply.id, when, per, count, request.critical, instead, request.reason)  # type: ignore[arg-type]


def _remove(request: Request, book: Book, rule: Rule) -> int:
    if rule.id not in {each.id for each in book.own_rules.rules}:
        raise NotUnderstood(
            f"{rule.id} comes with the program and is not yours to take out. Switch it off: trundle rule off {rule.id}."
        )
    after = rules_less(book, rule.id)
    said = f"{rule.title}: taken out of your rules."
    return _change(request, book, after, said, rule.id, lambda: book.take_rule_out(rule.id))


# ---------------------------------------------------------------------------------------------------- switched


def _switch_off(request: Request, book: Book, rule: Rule) -> int:
    off = _off_entry(request, book, rule)
    whom = say_for_whom(off, book.plan)
    until = f" until {say_date(off.until)}" if off.until is not None else ""
    if rule.safety and not off.reason.strip():
        raise NotUnderstood(
            f"{rule.title} is a safety rule: say with --reason why it is switched off. What your school's own rules"
            " ask for stays in force."
        )
    if not rule.on or _same(book, off) is not None:
        raise NotUnderstood(f"{rule.title} is off for {whom} already.")
    said = f"{rule.title}: off for {whom}{until}."
    return _change(request, book, rules_without(book, off), said, rule.id, lambda: book.switch_off(off))


def _off_entry(request: Request, book: Book, rule: Rule) -> SwitchedOff:
    today = _today(request)
    if request.until is not None and request.until < today:
        raise NotUnderstood(f"--until: {say_date(request.until)} is over already.")
    return SwitchedOff(
        rule=rule.id,
        class_id=find_class(request.for_class, book.plan) if request.for_class else "",
        lesson=find_lesson(request.lesson, book.plan) if request.lesson else "",
        until=request.until,
        reason=request.reason,
        since=today,
    )


def _same(book: Book, off: SwitchedOff) -> SwitchedOff | None:
    """The entry that switches the same off for the same, whatever its dates and reason."""
    for each in book.own_rules.off:
        if (each.rule, each.class_id, each.lesson, each.until) == (off.rule, off.class_id, off.lesson, off.until):
            return each
    return None


def _switch_on(request: Request, book: Book, rule: Rule) -> int:
    class_id = find_class(request.for_class, book.plan) if request.for_class else ""
    lesson = find_lesson(request.lesson, book.plan) if request.lesson else ""
    entries = [each for each in book.own_rules.off if each.rule == rule.id]
    meant = [each for each in entries if (each.class_id, each.lesson) == (class_id, lesson)]
    if not meant and not entries and not rule.on:
        meant = [SwitchedOff(rule.id)]
    if not meant and len(entries) == 1 and not class_id and not lesson:
        meant = entries
    if not meant:
        if not entries:
            raise NotUnderstood(f"{rule.title} is on already.")
        there = "\n".join(f"  for {say_for_whom(each, book.plan)}" for each in entries)
        raise NotUnderstood(f"Say for whom {rule.title} is to be on again; it is off\n{there}")
    meant = list(dict.fromkeys(meant))
    said = f"{rule.title}: on for {say_for_whom(meant[0], book.plan)}."

    def write() -> None:
        for each in meant:
            book.switch_on(each)

    return _change(request, book, rules_used_again(book, *meant), said, rule.id, write)


# --------------------------------------------------------------------------------------------------------- set


def set_number(request: Request) -> int:
    """Set a setting of the rules."""
    name, typed = request.words
    with open_book(request, write=not request.trial) as book:
        setting = find_setting(name, book.rules)
        try:
            value = read_setting(typed)
        except ValueError as problem:
            raise NotUnderstood(f"{typed} {problem}.") from None
        after = rules_set(book, setting.name, value)
        new = next(each for each in after.settings if each.name == setting.name)
        said = f"{setting.name}: {say_setting(setting)} -> {say_setting(new)}. {setting.meaning}."
        return _change(request, book, after, said, setting.name, lambda: book.set_setting(setting.name, value))


# -------------------------------------------------------------------------------------------------------- told


def _today(request: Request) -> date:
    return request.date or request.now.date()


def _change(request: Request, book: Book, after: RuleSet, said: str, ident: str, write: Callable[[], None]) -> int:
    """Do it, unless it is only tried, and say what it changes in the coming two weeks."""
    preview = preview_of(book, after, _today(request))
    if request.trial:
        said += " Only tried: nothing was written."
    else:
        write()
    if request.json:
        fields = changed_rules_as_json(
            request.command, said, ident, preview, written=not request.trial, private=request.private
        )
        say_json(fields)
    else:
        say(changed_rules_page(said, preview, private=request.private))
    return 0
