"""The command that answers a question by words of it."""

from __future__ import annotations

from datetime import date, datetime

from msgspec import structs

from checklists.book import Book
from checklists.commandline.opening import day_to_close, minute_on, moment_on, open_book
from checklists.commandline.packing import record
from checklists.commandline.request import NotUnderstood, Request
from checklists.daybook.day_end import at_day_end
from checklists.daybook.entries import AnyEntry, CarriedOver
from checklists.daybook.marks import LEAVE_AHEAD
from checklists.daybook.matters import Choice, OpenMatter
from checklists.daybook.typing_in import entries_typed
from checklists.leaving import open_before_leaving
from checklists.lines.records import Day
from checklists.words import join_words, plural, say_date

LATER = "later"
"""Understood of everything that can be put off, whatever the answer is called there."""


def answer(request: Request) -> int:
    """Choose an answer for the one question that has the words; later answers replace earlier ones."""
    asked, said = request.words
    with open_book(request, write=True) as book:
        date_meant = day_to_close(request, book)
        day, marks, moment = book.day(date_meant), book.marks(date_meant), moment_on(request, date_meant)
        is_today = request.now.date() == date_meant
        every = (
            *at_day_end(book.plan, day, marks, moment),
            *open_before_leaving(book, date_meant, marks, moment, labels=False, is_today=is_today),
        )
        matter = _find_matter(asked, every, say_date(date_meant))
        typed = _typed(said, matter, moment)
        if typed is not None:
            return record(request, book, date_meant, "answer", typed)
        choice = _find_choice(said, matter)
        entries = choice.entries if request.to is None else _move(choice, matter, request.to, book, day)
        return record(
            request, book, date_meant, "answer", entries, besides=_open_in_it(request, book, matter, date_meant)
        )


def _open_in_it(request: Request, book: Book, matter: OpenMatter, on: date) -> str:
    """Where it is left ahead: what is critical and not packed in it yet."""
    if not matter.key.startswith(LEAVE_AHEAD):
        return ""
    from checklists.pages.why_leave_ahead import say_open_in_it

    trips = book.departure(on, minute_on(request, on)).to_leave
    return next((say_open_in_it(book.day(on), book.marks(on), each) for each in trips if each.key == matter.key), "")


def _find_matter(asked: str, every: tuple[OpenMatter, ...], on: str) -> OpenMatter:
    words = asked.casefold().split()
    by_key = {each.key: each for each in reversed(every)}
    found = [each for each in by_key.values() if all(word in each.text.casefold() for word in words)]
    unanswered = [each for each in found if not each.answer]
    found = unanswered or found
    if not found:
        raise NotUnderstood(f"No question of {on} has the words {asked}. trundle close --look shows them.")
    if len(found) > 1:
        first = "\n".join(f"  {each.text}" for each in found[:3])
        many = plural(len(found), "question")
        raise NotUnderstood(f"{many} have the words {asked}. Say more of the one, as of\n{first}")
    return found[0]


def _typed(said: str, matter: OpenMatter, moment: datetime) -> tuple[AnyEntry, ...] | None:
    """The entries of an answer that is no choice but typed as on the screen: a count, numbers, "f under the sink"."""
    if not matter.typed or any(each.label.casefold().startswith(said.casefold()) for each in matter.choices):
        return None
    found = entries_typed(matter, said, moment)
    return None if isinstance(found, str) else found


def _find_choice(said: str, matter: OpenMatter) -> Choice:
    typed = said.casefold()
    exact = [each for each in matter.choices if each.label.casefold() == typed]
    if typed == LATER:
        exact = [each for each in matter.choices if _puts_off(each)]
    begins = [each for each in matter.choices if each.label.casefold().startswith(typed)]
    if exact or len(begins) == 1:
        return (exact or begins)[0]
    labels = join_words((each.label for each in matter.choices), "or")
    raise NotUnderstood(f"{said} is no answer to this: {matter.text}\nAnswers are {labels}.")


def _puts_off(choice: Choice) -> bool:
    return any(isinstance(entry, CarriedOver) for entry in choice.entries)


def _move(choice: Choice, matter: OpenMatter, to: date, book: Book, day: Day) -> tuple[AnyEntry, ...]:
    """The entries of putting a matter off to a day; refused where it cannot be asked again then."""
    if not _puts_off(choice):
        raise NotUnderstood(f"--to goes with the answer later; {choice.label} settles it now.")
    if to <= day.date:
        raise NotUnderstood(f"--to: {say_date(to)} is not later than {say_date(day.date)}.")
    then = book.day(to)
    if not then.school_day:
        following = f" The next school day is {then.next_school_day.isoformat()}." if then.next_school_day else ""
        raise NotUnderstood(f"--to: {say_date(to)} is no school day ({then.why_no_school}).{following}")
    task = next((each for each in day.tasks if each.key == matter.key), None)
    if task is not None and to > task.for_date:
        raise NotUnderstood(f"--to: {task.class_id} needs it on {say_date(task.for_date)}; {say_date(to)} is too late.")
    return tuple(structs.replace(each, to=to) if isinstance(each, CarriedOver) else each for each in choice.entries)
