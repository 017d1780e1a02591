"""The command about what is wrong with a line: every answer there is to it, or one of them as a change from now on."""

from __future__ import annotations

from checklists.book import Book
from checklists.commandline.finding import find_line
from checklists.commandline.opening import day_to_pack, moment_on, open_book
from checklists.commandline.output import say, say_json
from checklists.commandline.request import NotUnderstood, Request
from checklists.line_changes.offers import offers_for
from checklists.line_changes.records import LineChange, Offer, Way
from checklists.lines.records import Day, Line
from checklists.pages.plain import wrap
from checklists.pages.what_follows import what_follows
from checklists.plan.class_notes import CannotNote
from checklists.words import join_words, say_date


def show_or_change_line(request: Request) -> int:
    """With a line alone, what can be changed; with a number or key of that behind it, and a value, it is done."""
    word, *more = request.words
    with open_book(request, write=bool(more)) as book:
        on = day_to_pack(request, book)
        day = book.day(on)
        line = find_line(word, day)
        found = offers_for(book.plan, book.rules, day, line, moment_on(request, on))
        offers = tuple(each for each in found if each.takes != "page")
        if not more:
            return _show(request, day, line, offers)
        offer = _find_offer(more[0], offers)
        change = _made(book, offer, " ".join(more[1:]), request.reason)
        return _do(request, book, day, line, change)


def _show(request: Request, day: Day, line: Line, offers: tuple[Offer, ...]) -> int:
    if request.json:
        shown = [
            {
                "key": each.key,
                "what": each.label,
                "counts_for": each.counts,
                "takes": each.takes,
                "ways": [{"key": way.key, "what": way.label, "needs_reason": way.needs_reason} for way in each.ways],
            }
            for each in offers
        ]
        say_json({"format": 1, "page": "change-line", "date": day.date.isoformat(), "line": line.key, "offers": shown})
        return 0
    rows = wrap(f"{line.number}, {line.name}: what is wrong with it? Each counts from {say_date(day.date)} on.")
    for number, each in enumerate(offers, 1):
        rows += wrap(f"{each.label} ({each.counts})", first=f"{number:>3}  ", indent=5)
    first = offers[0]
    rows += wrap(f"Like this: trundle change-line {line.number} 1{' 24' if first.takes == 'typed' else ''}")
    say("\n".join(rows) + "\n")
    return 0


def _find_offer(word: str, offers: tuple[Offer, ...]) -> Offer:
    by_key = {each.key: each for each in offers} | {str(n): each for n, each in enumerate(offers, 1)}
    if word not in by_key:
        raise NotUnderstood(f"{word} is none of what can be changed, 1 to {len(offers)}; without it they are shown.")
    return by_key[word]


def _made(book: Book, offer: Offer, typed: str, reason: str) -> LineChange:
    if offer.takes == "choice":
        way = _find_way(offer, typed)
        typed = way.key
        if way.needs_reason and not reason:
            raise NotUnderstood(f"{way.caution} Say why with --reason.")
    elif offer.takes == "nothing" and typed:
        raise NotUnderstood(f'"{offer.label}" takes nothing behind it.')
    try:
        return offer.make(book.plan_files, typed, reason)
    except CannotNote as problem:
        raise NotUnderstood(f"{offer.label}: {problem} {offer.hint}".strip()) from None


def _find_way(offer: Offer, typed: str) -> Way:
    """By its key or its words; their beginning is enough where only one has it."""
    folded = typed.casefold()
    exact = [way for way in offer.ways if typed and folded in (way.key.casefold(), way.label.casefold())]
    begins = [way for way in offer.ways if typed and way.label.casefold().startswith(folded)]
    found = exact or begins
    if len(found) != 1:
        there = join_words((f'"{way.label}"' for way in (found or offer.ways)[:8]), "or")
        raise NotUnderstood(f"{offer.label}: say which way, {there}.")
    return found[0]


def _do(request: Request, book: Book, before: Day, line: Line, change: LineChange) -> int:
    on = before.date
    marks, at = book.marks(on), moment_on(request, on)
    if change.files is not None:
        book.change_files(change.files, change.said, at)
    elif change.off is not None:
        book.switch_off(change.off)
    else:
        book.do(on, *change.entries)
    follows = what_follows(book.plan, before, book.day(on), marks)
    if request.json:
        done = {"format": 1, "page": "change-line", "date": on.isoformat(), "line": line.key, "said": change.said}
        say_json({**done, "follows": list(follows)})
        return 0
    rows = wrap(f"{change.said[:1].upper()}{change.said[1:]}.")
    rows += [row for each in follows for row in wrap(each, first="  ", indent=4)]
    if not follows:
        rows += wrap(f"The list of {say_date(on)} stays as it is.", indent=2)
    say("\n".join(rows) + "\n")
    return 0
