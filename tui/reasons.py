"""Why a line is on the list, as paragraphs."""

from __future__ import annotations

from checklists.lines.records import Because, Day, Line
from checklists.pages.reasons import Explained, say_forbidden
from checklists.pages.reasons import reasons_of as reasons_to_show
from checklists.words import join_words
from tui.sections import IN_THE_KIT, shelf_text
from tui.wording import sentence

PRIVATE = "One more reason is private: w shows it."


def reasons_of(line: Line, day: Day, *, with_private: bool) -> tuple[str, ...]:
    """The reasons of a line, a paragraph each. A private one is only told where she asked for it."""
    told = list(told_reasons(line, day, with_private=with_private))
    if line.forbidden:
        told.insert(0, f"{forbidden_text(line, private=with_private)} n takes it off the list.")
    told.append(stock_text(line, day))
    return tuple(paragraph for paragraph in told if paragraph)


def forbidden_text(line: Line, *, private: bool) -> str:
    """That a line must not come along; why only where that tells nothing of a child's need, or she asked."""
    said = say_forbidden(line, private)
    return said[:1].upper() + said[1:]


def reason_text(because: Because, day: Day) -> str:
    """One reason: what it says, for which visits, by which rule, through which facts."""
    visits = [visit for visit in day.visits if visit.key in because.visits]
    whom = join_words(f"{visit.name} {visit.class_id}" for visit in visits)
    said = f"{whom}: {because.text}" if whom else because.text
    if because.private:
        said = f"Private. {said}"
    if because.rule_title:
        said += f"\nRule: {because.rule_title}"
    if because.facts:
        said += "\n" + ". ".join(fact.rstrip(".") for fact in because.facts) + "."
    return said


def told_reasons(thing: Explained, day: Day, *, with_private: bool) -> tuple[str, ...]:
    """The reasons of anything that has some, a paragraph each."""
    told = [reason_text(because, day) for because in reasons_to_show(thing, with_private)]
    return (*told, PRIVATE) if len(told) < len(thing.because) else tuple(told)


def stock_text(line: Line, day: Day) -> str:
    """Where a line is taken from, and how many are there."""
    shelf = shelf_text(line, day)
    where = f"{sentence(shelf if shelf == IN_THE_KIT else f'Shelf {shelf}')} " if shelf else ""
    if line.on_shelf is None:
        return where.strip()
    return f"{where}{f'About {line.on_shelf} are' if line.on_shelf else 'None is'} at the store outside containers."
