"""The command about a class: what is known of it, and what is new about it."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from functools import partial

from checklists.book import Book
from checklists.commandline.finding import find_class
from checklists.commandline.opening import day_to_pack, moment_on, open_book
from checklists.commandline.output import say, say_json
from checklists.commandline.request import NotUnderstood, Request
from checklists.daybook.class_list import leaving, say_size
from checklists.daybook.line_states import is_critical, open_lines
from checklists.pages.as_json import did_as_json
from checklists.pages.known_class import class_fields, class_page
from checklists.pages.plain import wrap
from checklists.pages.what_follows import what_follows
from checklists.plan import class_notes
from checklists.plan.class_notes import CannotNote, Known
from checklists.plan.records import Classes
from checklists.rules.read import vocabulary
from checklists.words import join_words, nearest, plural, say_date

Step = tuple[Callable[[Classes], Classes], str]
"""One change of the classes, and what it says."""


def show_or_change_class(request: Request) -> int:
    """What is known of a class; with anything said of it, that is kept and what follows for the list is told."""
    with open_book(request, write=_says_something(request)) as book:
        if not request.words:
            if _says_something(request):
                raise NotUnderstood("Say which class that is about: trundle class 2-R --avoid latex.")
            return _show(request, book, [each.id for each in book.plan.classes])
        class_id = find_class(request.words[0], book.plan)
        if not _says_something(request):
            return _show(request, book, [class_id])
        return _change(request, book, class_id)


def _says_something(request: Request) -> bool:
    lists = (request.avoid, request.avoid_no_more, request.needs, request.gone_numbers, request.back_numbers)
    return any((*lists, request.has, request.has_not)) or (request.size, request.usual_adults) != (None, None)


def _show(request: Request, book: Book, class_ids: list[str]) -> int:
    classes = [book.plan.class_by_id[each] for each in class_ids]
    if request.json:
        shown = [class_fields(each, private=request.private) for each in classes]
        say_json({"format": 1, "page": "class", "classes": shown})
    else:
        say("\n".join(class_page(book.plan, each, private=request.private) for each in classes))
    return 0


def _change(request: Request, book: Book, class_id: str) -> int:
    date_meant = day_to_pack(request, book)
    before, marks = book.day(date_meant), book.marks(date_meant)
    classes, said = class_notes.classes_of(book.plan), []
    try:
        for change, words in _steps(request, book, class_id):
            classes = change(classes)
            said.append(words)
        class_ = next(each for each in classes.classes if each.id == class_id)
        numbers = dict.fromkeys(each for numbers in request.gone_numbers for each in numbers)
        gone = [leaving(class_, number, "", moment_on(request, date_meant)) for number in numbers]
    except CannotNote as problem:
        raise NotUnderstood(str(problem)) from None
    if classes != class_notes.classes_of(book.plan):
        book.change_classes(classes)
    for entry in gone:
        book.do(date_meant, entry)
        said.append(f"number {entry.number} has left; the others keep their numbers")
    if request.gone_numbers or request.back_numbers:
        said.append(say_size(book.plan.class_by_id[class_id]))
    after = book.day(date_meant)
    follows = what_follows(book.plan, before, after, marks)
    if request.json:
        shown = class_fields(book.plan.class_by_id[class_id], private=request.private)
        say_json({**did_as_json("class", after, marks, tuple(said)), "classes": [shown], "follows": list(follows)})
        return 0
    rows = wrap(f"{class_id}: {'; '.join(said)}.")
    rows += [row for each in follows for row in wrap(each, first="  ", indent=4)]
    lines = open_lines(after, marks)
    critical = sum(is_critical(line) for line in lines)
    if not follows:
        rows += wrap(f"The list of {say_date(date_meant)} stays as it is.", indent=2)
    say("\n".join([*rows, f"{say_date(date_meant)}: {plural(len(lines), 'line')} open, {critical} critical"]) + "\n")
    return 0


def _steps(request: Request, book: Book, class_id: str) -> Iterator[Step]:
    """Every change that was asked for, in the order of the help page."""
    plan, words = book.plan, vocabulary()
    things = class_notes.things_to_avoid(plan, words.avoid, words.marks)
    for typed in request.avoid:
        thing = _find(typed, things, "thing to avoid")
        yield partial(class_notes.avoid, class_id=class_id, word=thing.word), f"avoids {thing.name}"
    for typed in request.avoid_no_more:
        thing = _find(typed, things, "thing to avoid")
        said = f"need not avoid {thing.name} any more"
        yield partial(class_notes.avoid_no_more, class_id=class_id, word=thing.word), said
    for typed, count in request.needs:
        thing = _find(typed, class_notes.things_to_need(plan, words.needs), "need")
        said = (
            f"{plural(count, 'child')} with the need {thing.name}" if count else f"nobody needs {thing.name} any more"
        )
        yield partial(class_notes.need, class_id=class_id, word=thing.word, count=count), said
    if request.size is not None:
        yield partial(class_notes.size, class_id=class_id, students=request.size), f"{request.size} children"
    for number in (each for numbers in request.back_numbers for each in numbers):
        yield partial(class_notes.come_back, class_id=class_id, number=number), f"number {number} is there again"
    if request.usual_adults is not None:
        said = f"{plural(request.usual_adults, 'adult')} in the room"
        yield partial(class_notes.adults, class_id=class_id, count=request.usual_adults), said
    for typed in request.has:
        thing = _find(typed, class_notes.things_to_have(plan), "supply")
        yield partial(class_notes.have, class_id=class_id, supply=thing.word), f"has {thing.name} of its own"
    for typed in request.has_not:
        thing = _find(typed, class_notes.things_to_have(plan), "supply")
        said = f"has no {thing.name} of its own any more"
        yield partial(class_notes.have_no_more, class_id=class_id, supply=thing.word), said


def _find(typed: str, known: Iterable[Known], noun: str) -> Known:
    """The thing by its word or name, or the only one that begins so."""
    every = tuple(known)
    wanted = typed.casefold().strip()
    for each in every:
        if wanted in (each.word.casefold(), each.name.casefold()):
            return each
    begins = [each for each in every if each.word.casefold().startswith(wanted)]
    begins += [each for each in every if each.name.casefold().startswith(wanted) and each not in begins]
    if len(begins) == 1:
        return begins[0]
    if begins:
        raise NotUnderstood(f"{typed} may be {join_words((each.word for each in begins[:6]), 'or')}. Say which.")
    near = nearest(typed, [name for each in every for name in (each.word, each.name)])
    meant = f"Did you mean {near}?" if near else f"Known are {join_words(each.word for each in every[:8])} and so on."
    raise NotUnderstood(f"There is no {noun} called {typed}. {meant}")
