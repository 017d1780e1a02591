"""The command about lesson types: all of them, one in full, and a lesson of her own made from one."""

from __future__ import annotations

from checklists.commandline.opening import moment_on, open_book
from checklists.commandline.output import say, say_json
from checklists.commandline.request import NotUnderstood, Request
from checklists.lesson_types import LessonType, lesson_types, what_enters
from checklists.lesson_types.shown import parts_shown, usual_grade
from checklists.pages import lesson_types as pages
from checklists.words import nearest


def show_or_start_lesson_type(request: Request) -> int:
    """Without an option the list, which needs no plan."""
    if request.show and request.start:
        raise NotUnderstood("--show and --start are two things. Give one of them.")
    if request.title and not request.start:
        raise NotUnderstood("--title names a lesson that is made: give --start and a lesson type too.")
    if request.start:
        return _start(request, find_type(request.start))
    if request.show:
        kind = find_type(request.show)
        grade = request.grade or usual_grade(kind)
        parts = parts_shown(kind, grade)
        if request.json:
            say_json(pages.type_as_json(kind, grade, parts))
        else:
            say(pages.type_page(kind, grade, parts))
    elif request.json:
        say_json(pages.types_as_json(lesson_types()))
    else:
        say(pages.types_page(lesson_types()))
    return 0


def find_type(typed: str) -> LessonType:
    """By its id or its title, or the beginning of one where only one begins so."""
    word = " ".join(typed.casefold().split())
    types = lesson_types()
    named = [each for each in types if word in (each.id, each.title.casefold())]
    begun = [each for each in types if each.id.startswith(word) or each.title.casefold().startswith(word)]
    for found in (named, begun):
        if len(found) == 1:
            return found[0]
    near = nearest(word, [each.id for each in types])
    meant = f"Did you mean {near}?" if near else "trundle lesson-types shows them."
    raise NotUnderstood(f"There is no lesson type {typed}. {meant}")


def _start(request: Request, kind: LessonType) -> int:
    with open_book(request, write=True) as book:
        started = what_enters(book.plan_files, kind.id, title=request.title, grade=request.grade)
        book.change_files(
            started.files, f"the lesson {started.lesson.title}", moment_on(request, request.date or request.now.date())
        )
    if request.json:
        say_json(pages.started_as_json(kind, started, request.grade))
    else:
        say(pages.started_page(kind, started, request.grade))
    return 0
