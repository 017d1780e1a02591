"""The commands about single children and their work, by class-list number: joined, left, excuse, broken, hanging."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from checklists.book import Book
from checklists.commandline.finding import find_class
from checklists.commandline.opening import day_to_look_at, moment_on, open_book
from checklists.commandline.output import say, say_json
from checklists.commandline.request import NotUnderstood, Request
from checklists.commandline.values import read_half, read_number
from checklists.daybook.children import as_told, made_last, parts_so_far
from checklists.daybook.class_list import joining, leaving, say_not_on_list, say_size
from checklists.daybook.entries import AnyEntry, Broken, Excused, Settled, WorkAway
from checklists.daybook.line_states import is_critical, open_lines
from checklists.daybook.said import say_entry
from checklists.daybook.state import State
from checklists.lines.catch_up import part_of
from checklists.lines.day import calendar_for
from checklists.pages.as_json import did_as_json
from checklists.plan.class_notes import CannotNote
from checklists.plan.records import Plan, SchoolClass
from checklists.visits import next_visit_of
from checklists.words import join_words, nearest, plural, say_date


def take_in(request: Request) -> int:
    """A new child: the next class-list number, and what it has missed of the lesson."""
    with open_book(request, write=True) as book:
        day, class_ = day_to_look_at(request, book), _class(request, book)
        behind = tuple(parts_so_far(book.plan, _state(book, day), class_.id))
        try:
            entry = joining(class_, moment_on(request, day))
        except CannotNote as problem:
            raise NotUnderstood(str(problem)) from None
        book.do(day, entry)
        then = [f"{class_.id} has {say_size(book.plan.class_by_id[class_.id])} now."]
        if behind:
            title = book.plan.lesson_by_id[behind[0][0]].title
            parts = plural(len(behind), "part").split()[1] + " " + join_words(str(part) for _, part in behind)
            then.append(f"No. {entry.number} is owed {parts} of {title}, {_say_when(book, class_.id, day)}.")
        return _tell(request, book, day, entry, then)


def let_leave(request: Request) -> int:
    """A child has left: one fewer, its number is not given again, and nothing more is owed to it."""
    with open_book(request, write=True) as book:
        day, class_ = day_to_look_at(request, book), _class(request, book)
        try:
            entry = leaving(class_, _number(request.words[1], class_), request.need, moment_on(request, day))
        except CannotNote as problem:
            raise NotUnderstood(str(problem)) from None
        book.do(day, entry)
        then = [f"{class_.id} has {say_size(book.plan.class_by_id[class_.id])} now."]
        gone = f"gone/{class_.id}/{entry.number}"
        if any(each.key == gone for each in _state(book, day).carried):
            then.append(f"Its work is to be taken out of the folder {_say_when(book, class_.id, day)}.")
        if class_.needs and not request.need:
            then.append("The needs of the class stay as they are; say --need where one goes with the child.")
        return _tell(request, book, day, entry, then)


def excuse(request: Request) -> int:
    """Decide about what a child missed of a lesson: nothing, the short version, or its set at home."""
    if request.short_version and request.take_home:
        raise NotUnderstood("--short-version and --take-home cannot both be said of a child. Give one of them.")
    with open_book(request, write=True) as book:
        day, class_ = day_to_look_at(request, book), _class(request, book)
        number = _number(request.words[1], class_)
        how: Settled = "short version" if request.short_version else "at home" if request.take_home else "excused"
        lesson = _lesson_behind(request, book, _state(book, day), class_, number)
        if how == "short version" and not any(part.short_version for part in book.plan.lesson_by_id[lesson].parts):
            raise NotUnderstood(f"{book.plan.lesson_by_id[lesson].title} has no short version of any part.")
        entry = Excused(at=moment_on(request, day), class_id=class_.id, number=number, lesson=lesson, how=how)
        book.do(day, entry)
        return _tell(request, book, day, entry, [])


def say_broken(request: Request) -> int:
    """Pieces that broke, by class-list number or only counted; made again where the same medium is out."""
    with open_book(request, write=True) as book:
        day, class_ = day_to_look_at(request, book), _class(request, book)
        numbers = _numbers(request.words[1], class_) if len(request.words) > 1 else ()
        if not numbers and not request.count:
            raise NotUnderstood(f"Say whose pieces broke, or how many: trundle broken {class_.id} 6,19.")
        lesson, part = _made_in(request, book.plan, _state(book, day), class_)
        at, count = moment_on(request, day), request.count or 0
        entry = Broken(at=at, class_id=class_.id, lesson=lesson, part=part, numbers=numbers, count=count)
        book.do(day, entry)
        title = book.plan.lesson_by_id[lesson].title
        made_in = f"They were made in part {part} of {title}"
        return _tell(request, book, day, entry, [f"{made_in}; made again at its next visit where that is out."])


def say_hanging_work(request: Request) -> int:
    """Work that hangs on a wall and is not in the class's folder, or is back."""
    with open_book(request, write=True) as book:
        day, class_ = day_to_look_at(request, book), _class(request, book)
        count = 0 if request.back else _pieces(request, class_)
        if request.back and (len(request.words) > 1 or request.until is not None):
            raise NotUnderstood(f"--back says that all work is back: trundle hanging {class_.id} --back.")
        if request.until is not None and request.until < day:
            raise NotUnderstood(f"--until: {say_date(request.until)} is before {say_date(day)}.")
        entry = WorkAway(at=moment_on(request, day), class_id=class_.id, count=count, until=request.until)
        book.do(day, entry)
        return _tell(request, book, day, entry, [])


# ------------------------------------------------------------------------------------------- what was meant by it


def _class(request: Request, book: Book) -> SchoolClass:
    return book.plan.class_by_id[find_class(request.words[0], book.plan)]


def _state(book: Book, day: date) -> State:
    """How things stand on the day, with what was said of children on it."""
    return as_told(book.plan, day, book.marks(day), book.opening(day))


def _number(text: str, class_: SchoolClass) -> int:
    numbers = _numbers(text, class_)
    if len(numbers) != 1:
        raise NotUnderstood(f"{text}: say one class-list number, like 7.")
    return numbers[0]


def _numbers(text: str, class_: SchoolClass) -> tuple[int, ...]:
    """Class-list numbers of the class, as typed: "6,19"."""
    try:
        numbers = read_half(text)
    except ValueError:
        raise NotUnderstood(f"{text} is no class-list number of {class_.id}; write it like 7, or 6,19.") from None
    wrong = say_not_on_list(class_, numbers)
    if wrong:
        raise NotUnderstood(wrong)
    return numbers


def _lesson_behind(request: Request, book: Book, state: State, class_: SchoolClass, number: int) -> str:
    """The lesson in which a child is owed something, or the one that was named."""
    owed = [each for each in state.owed.get(class_.id, ()) if number in each.numbers]
    lessons = list(dict.fromkeys(each.lesson for each in owed if each.lesson in book.plan.lesson_by_id))
    if request.lesson:
        wanted = _find_lesson(request.lesson, book.plan)
        lessons = [each for each in lessons if each == wanted]
    if not lessons:
        of = f" of {book.plan.lesson_by_id[_find_lesson(request.lesson, book.plan)].title}" if request.lesson else ""
        raise NotUnderstood(f"No. {number} of {class_.id} is owed nothing{of}.")
    if len(lessons) > 1:
        titles = join_words(book.plan.lesson_by_id[each].title for each in lessons)
        raise NotUnderstood(f"No. {number} of {class_.id} is behind in {titles}. Say which one with --lesson.")
    return lessons[0]


def _made_in(request: Request, plan: Plan, state: State, class_: SchoolClass) -> tuple[str, int]:
    """Lesson and part in which what broke was made: as said, else the newest work that can break."""
    last = made_last(plan, state, class_.id)
    lesson = _find_lesson(request.lesson, plan) if request.lesson else last[0] if last is not None else ""
    if not lesson:
        raise NotUnderstood(
            f"{class_.id} has made nothing yet. Say the lesson with --lesson, and its part with --part."
        )
    part = request.part or (last[1] if last is not None and last[0] == lesson else 1)
    if part_of(plan, lesson, part) is None:
        parts = plural(len(plan.lesson_by_id[lesson].parts), "part")
        raise NotUnderstood(f"--part: {plan.lesson_by_id[lesson].title} has {parts}.")
    return lesson, part


def _find_lesson(word: str, plan: Plan) -> str:
    """The id of a lesson by its id or title; the beginning is enough where only one begins so."""
    typed = word.casefold()
    names = {each.id: (each.id.casefold(), each.title.casefold()) for each in plan.lessons}
    exact = [ident for ident, known in names.items() if typed in known]
    begins = [ident for ident, known in names.items() if any(each.startswith(typed) for each in known)]
    if exact or len(begins) == 1:
        return (exact or begins)[0]
    near = nearest(word, names)
    there = f"Did you mean {near}?" if near else f"The lessons are {join_words(names)}."
    raise NotUnderstood(f"There is no lesson {word} in the plan. {there}")


def _pieces(request: Request, class_: SchoolClass) -> int:
    if len(request.words) < 2:
        raise NotUnderstood(f"Say how many pieces hang: trundle hanging {class_.id} 12 --until 2026-10-30.")
    try:
        count = read_number(request.words[1])
    except ValueError as problem:
        raise NotUnderstood(f"{request.words[1]} {problem}.") from None
    if not count:
        raise NotUnderstood(f"Where nothing hangs any more, say trundle hanging {class_.id} --back.")
    if not class_.is_about and count > class_.headcount:
        raise NotUnderstood(f"{class_.id} has {plural(class_.headcount, 'child')}; {count} pieces cannot be away.")
    return count


# ----------------------------------------------------------------------------------------------- what follows


def _say_when(book: Book, class_id: str, day: date) -> str:
    """ "at its next visit, Wed 14 Oct"; today's visit is one, whatever the hour."""
    calendar = calendar_for(book.plan, book.opening(day), day, book.marks(day).changes)
    today = any(visit.class_id == class_id for visit in book.day(day).visits)
    then = day if today else next_visit_of(book.plan, calendar, class_id, day, book.opening(day))
    return "at its next visit" + (f", {say_date(then)}" if then is not None else "")


def _tell(request: Request, book: Book, day: date, entry: AnyEntry, then: list[str]) -> int:
    after, marks = book.day(day), book.marks(day)
    said = say_entry(entry, after)
    if request.json:
        say_json(did_as_json(request.command, after, marks, (said, *then)))
        return 0
    lines = open_lines(after, marks)
    critical = sum(is_critical(line) for line in lines)
    rows = [said, *_indented(then), f"{say_date(day)}: {plural(len(lines), 'line')} open, {critical} critical"]
    say("\n".join(rows) + "\n")
    return 0


def _indented(then: list[str]) -> Iterator[str]:
    from checklists.pages.plain import wrap

    for each in then:
        yield from wrap(each, first="  ", indent=4)
