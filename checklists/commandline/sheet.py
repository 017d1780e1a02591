"""The command that prints the cart sheet, or writes it into a file to be printed."""

from __future__ import annotations

from pathlib import Path

from checklists.book import Book
from checklists.commandline.looking import status_of
from checklists.commandline.opening import day_to_pack, open_book
from checklists.commandline.output import complain, say, say_json, say_pages
from checklists.commandline.request import NotUnderstood, Request
from checklists.files.safely import replace_file
from checklists.pages.cart_sheet_records import CartSheet
from checklists.pages.cart_sheet_text import NEXT_PAGE, cart_sheet_text
from checklists.pages.morning import banner
from checklists.sheets import FOLDER, sheet_of
from checklists.words import clean


def show_sheet(request: Request) -> int:
    """The sheet of today or, without visits today, of the next day that has some. Nothing is written down."""
    with open_book(request) as book:
        out = _file_to_write(request, book)
        sheet = sheet_of(book, day_to_pack(request, book), request.now)
        problems = book.problems
        if request.json:
            _print_as_json(sheet)
        elif out is None:
            say_pages(_laid_out(sheet, as_html=request.html).split(NEXT_PAGE))
        else:
            replace_file(
                out, _laid_out(sheet, as_html=request.html or out.suffix.lower() in (".html", ".htm")).encode()
            )
            say(f"Written: {clean(str(out))}\n")
    grave = banner(problems)
    if grave:
        complain("\n".join(grave))
    return status_of(False, problems)


def _print_as_json(sheet: CartSheet) -> None:
    from checklists.pages.cart_sheet_json import cart_sheet_as_json

    say_json(cart_sheet_as_json(sheet))


def _laid_out(sheet: CartSheet, *, as_html: bool) -> str:
    if as_html:
        from checklists.pages.cart_sheet_html import cart_sheet_html

        return cart_sheet_html(sheet)
    return cart_sheet_text(sheet)


def _file_to_write(request: Request, book: Book) -> Path | None:
    """The file of --out. Never one of the plan or the daybook: those are read, and what is in them would be gone."""
    if request.json and (request.html or request.out):
        raise NotUnderstood("--json is for scripts and prints by itself. Leave out --html and --out.")
    if not request.out:
        return None
    try:
        return _place_to_write(Path(request.out).expanduser().absolute(), book)
    except (OSError, RuntimeError) as error:  # a name that is too long, the folder of a user there is not
        raise NotUnderstood(f"The sheet cannot be written into {clean(request.out)}. Name another file.") from error


def _place_to_write(out: Path, book: Book) -> Path:
    shown = clean(str(out))
    inside = out.resolve().is_relative_to(book.folder.resolve())
    if inside and not out.resolve().is_relative_to((book.folder / FOLDER).resolve()):
        raise NotUnderstood(f"{shown} is among the files of the plan. Write the sheet into another folder.")
    if not out.parent.is_dir():
        raise NotUnderstood(f"There is no folder {clean(str(out.parent))}. Make it, or name another one behind --out.")
    if out.is_dir():
        raise NotUnderstood(f"{shown} is a folder. Name the file to write too, like {clean(str(out / 'sheet.html'))}.")
    return out
