"""Why something is on the list, as paragraphs: in short beside the list, in full on a page."""

from __future__ import annotations

from textual.content import Content

from checklists.lines.records import Because, Day, Line
from checklists.pages.reasons import Explained, say_forbidden
from checklists.pages.reasons import reasons_of as reasons_to_show
from checklists.pages.why import Reason, Why
from checklists.pages.why_number import say_counted
from checklists.words import join_words, plural
from tui.sections import IN_THE_KIT, shelf_text
from tui.wording import sentence

PRIVATE = "One more reason is private: w shows it."


def reasons_of(line: Line, day: Day, *, with_private: bool) -> tuple[str, ...]:
    """The reasons of a line, a paragraph each. A private one is only told where she asked for it."""
    told = list(told_reasons(line, day, with_private=with_private))
    if line.forbidden:
        told.insert(0, f"{forbidden_text(line, private=with_private)} n takes it off the list.")
    told += [set_out_text(line), stock_text(line, day)]
    return tuple(paragraph for paragraph in told if paragraph)


def forbidden_text(line: Line, *, private: bool) -> str:
    """That a line must not come along; why only where that tells nothing of a child's need, or she asked."""
    said = say_forbidden(line, private)
    return said[:1].upper() + said[1:]


def set_out_text(line: Line) -> str:
    """How it is laid out by tables, and which later visits it is filled for."""
    later = f"{line.ahead} more for later: {join_words(line.later)}." if line.ahead else ""
    return "\n".join(each for each in (sentence(line.sets) if line.sets else "", later) if each)


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
    there = f"About {line.on_shelf} are" if line.on_shelf else "None is"
    return f"{where}{there} at the store outside containers{say_counted(line)}."


def told_in_full(why: Why) -> tuple[Content, ...]:
    """Everything there is to say about one thing, for a page: the number, the reasons, how to change it."""
    said = [Content(each) for each in why.how]
    for reason in why.reasons:
        said += [Content(""), *reason_lines(reason)]
    if why.left_out:
        said += [Content(""), Content(f"{plural(why.left_out, 'reason')} left out as private.")]
    if why.change:
        said += [Content(""), Content.assemble(("To change it", "bold")), *(Content(each) for each in why.change)]
    return tuple(said)


def reason_lines(reason: Reason) -> list[Content]:
    """One reason with its rule, the facts it rests on, and where its numbers come from."""
    said = [Content(f"{'Private. ' if reason.private else ''}{reason.text}")]
    if reason.rule:
        said.append(Content(f"Rule: {reason.rule}"))
    if reason.facts:
        said.append(Content(". ".join(reason.facts) + "."))
    if reason.source:
        said.append(Content(f"Where that comes from: {reason.source}"))
    return said
