"""The commands about names: calling a thing otherwise everywhere, and what uses a thing."""

from __future__ import annotations

from checklists.commandline.opening import moment_on, open_book
from checklists.commandline.output import say, say_json
from checklists.commandline.request import NotUnderstood, Request
from checklists.pages import naming as pages
from checklists.plan.archiving import things_of
from checklists.plan.naming import BELLS, CLASS, DAY, KIT, LESSON, PERIOD, ROOM, SUPPLY
from checklists.plan.plan_files import PlanFiles
from checklists.plan.renaming import RENAMED, CannotRename, known_names, rename, say_renamed
from checklists.plan.uses import uses_of
from checklists.rules.read import builtin_supplies
from checklists.words import clean, join_words, nearest

_KINDS = {
    "class": CLASS,
    "room": ROOM,
    "period": PERIOD,
    "day": DAY,
    "timetable day": DAY,
    "bells": BELLS,
    "supply": SUPPLY,
    "kit": KIT,
    "lesson": LESSON,
}


def rename_thing(request: Request) -> int:
    """Call it so from now on, in every plan file and in her rules."""
    kind, (old, new) = _kind(request, [*RENAMED]), request.words[1:]
    with open_book(request, write=True) as book:
        try:
            after = rename(book.plan_files, book.own_rules, kind, old, new)
        except CannotRename as problem:
            raise NotUnderstood(str(problem)) from None
        name = " ".join(new.split())
        said = say_renamed(kind, old, name)
        uses = uses_of(after.files, after.own_rules, kind, name)
        at = moment_on(request, request.date or request.now.date())
        book.change_files(after.files, said, at, after.own_rules)
    if request.json:
        say_json(pages.rename_as_json(kind, old, name, said, uses))
    else:
        say(pages.rename_page(request.words[0], old, name, said, uses))
    return 0


def show_uses(request: Request) -> int:
    """Everything that names a thing; nothing is changed."""
    kind, name = _kind(request, list(_KINDS.values())), request.words[1]
    with open_book(request, write=False) as book:
        files = book.plan_files
        called = _named(files, kind, name)
        uses = uses_of(files, book.own_rules, kind, called)
    if request.json:
        say_json(pages.uses_as_json(kind, called, uses))
    else:
        say(pages.uses_page(kind, called, uses))
    return 0


def _kind(request: Request, kinds: list[str]) -> str:
    typed = request.words[0].casefold()
    found = _KINDS.get(typed)
    if found in kinds:
        return str(found)
    if found is not None:
        raise NotUnderstood(f"A {typed} keeps its id; what it is called is changed in the program, or in its file.")
    known = [each for each, kind in _KINDS.items() if kind in kinds and " " not in each]
    raise NotUnderstood(f"{clean(request.words[0])} is nothing that has a name. Say {join_words(known, 'or')} first.")


def _named(files: PlanFiles, kind: str, typed: str) -> str:
    """By its id, or by what it is called."""
    if kind in RENAMED:
        known = {each: each for each in known_names(files.school, files.classes, kind)}
    else:
        things = (*things_of(files, kind), *(builtin_supplies() if kind == SUPPLY else ()))
        known = {str(getattr(each, "title", "") or getattr(each, "name", "")): each.id for each in reversed(things)}
        known |= {each.id: each.id for each in things}
    found = {each.casefold(): ident for each, ident in known.items()}.get(typed.casefold())
    if typed in known or found is not None:
        return known.get(typed) or str(found)
    near = nearest(typed, known)
    raise NotUnderstood(f'There is no {kind} "{clean(typed)}".' + (f' Did you mean "{near}"?' if near else ""))
