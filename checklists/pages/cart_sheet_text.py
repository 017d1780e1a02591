"""The cart sheet as plain text for a printer that takes nothing else: 80 columns, at most 60 rows a page.

One page for up to seven visits: what does not fit is cut, the least needed first, and the block says how much. Where
that is not enough, and for more visits, there is another page and nothing is cut.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from checklists.pages.cart_sheet_records import CartSheet, VisitBlock
from checklists.pages.cart_sheet_words import (
    EMERGENCY,
    LOCAL_RULES,
    NOTED,
    facts_of_block,
    say_behind,
    say_children,
    say_clean_up,
    say_counted,
    say_day,
    say_leave,
    say_printed,
    say_stop,
    say_taught,
    say_ticks,
    say_visit,
    say_way,
)
from checklists.pages.plain import WIDTH, shorten, width_of, wrap

ROWS = 60
"""Of a printed page."""
MOST_VISITS = 7
"""Visits that are to stand on one page, whatever has to be cut."""
NEXT_PAGE = "\f"
"""What makes a printer take another sheet of paper."""
_MARGIN = "    "
_STUCK = "\x7f"
"""A space at which no row ends: a label stands beside what it is of. Texts are clean, so that none has this sign."""
_LEAST_TITLE = 8
"""Columns below which a shortened title says nothing."""
_BLANKS = (12, 8, 10, 11)
"""Room to write for what is noted, so that all of it stands in one row."""


def cart_sheet_text(sheet: CartSheet) -> str:
    """The whole sheet, with a form feed before every page but the first."""
    return NEXT_PAGE.join("\n".join(page) + "\n" for page in cart_sheet_pages(sheet))


def cart_sheet_pages(sheet: CartSheet, width: int = WIDTH, rows: int = ROWS) -> list[list[str]]:
    """The rows of each page."""
    head, foot = _head(sheet, width), _foot(sheet, width)
    whole = _parts(sheet, width, ())
    room = rows - len(head) - len(foot)
    parts = _cut_to(sheet, width, room) if len(sheet.visits) <= MOST_VISITS else whole
    if sum(map(len, parts)) > room:
        return _pages(sheet, whole, foot, width, rows)
    return [[*head, *_spread(parts, room), *foot]]


def _spread(parts: Sequence[list[str]], room: int) -> list[str]:
    """The parts below one another, with a row between them where there is room for it."""
    between = [""] if sum(map(len, parts)) + len(parts) < room else []
    return [*(row for part in parts for row in (*between, *part)), *between]


def _cut_to(sheet: CartSheet, width: int, room: int) -> list[list[str]]:
    """The sheet in so many rows, as far as cutting what may be cut gets there: all trays before anything else.

    A cut is made only where it saves a row, in the longest visit first.
    """
    visits = sheet.visits
    cuts = [0] * len(visits)
    over = sum(map(len, _parts(sheet, width, cuts))) - room
    lengths = [len(_visit_rows(each, width, 0)) for each in visits] if over > 0 else []
    for rank in (2, 1):
        waiting = list(range(len(visits)))
        while over > 0 and waiting:
            longest = max(waiting, key=lengths.__getitem__)
            cut, saved = _next_cut(visits[longest], cuts[longest], rank, width)
            if not saved:
                waiting.remove(longest)
                continue
            cuts[longest] = cut
            lengths[longest] -= saved
            over -= saved
    return _parts(sheet, width, cuts)


def _next_cut(block: VisitBlock, cut: int, rank: int, width: int) -> tuple[int, int]:
    """How many facts to cut so that the visit takes fewer rows, and how many fewer.

    None where facts of the rank and above do not get there.
    """
    most = sum(each.rank >= rank for each in facts_of_block(block))
    now = len(_facts(block, width, cut))
    for more in range(cut + 1, most + 1):
        saved = now - len(_facts(block, width, more))
        if saved > 0:
            return more, saved
    return cut, 0


def _pages(sheet: CartSheet, parts: Sequence[list[str]], foot: list[str], width: int, rows: int) -> list[list[str]]:
    """As many whole visits on a page as it takes."""
    room = rows - len(_head(sheet, width)) - len(foot)
    pages: list[list[list[str]]] = [[]]
    for part in parts:
        if len(part) > room:
            part = [*part[: room - 1], f"{_MARGIN}({len(part) - room + 1} rows cut: the list has all of it)"]
        if sum(map(len, pages[-1])) + len(part) > room:
            pages.append([])
        pages[-1].append(part)
    return [
        [*_head(sheet, width, f"page {n} of {len(pages)}"), *_spread(page, room), *foot]
        for n, page in enumerate(pages, 1)
    ]


def _head(sheet: CartSheet, width: int, page: str = "") -> list[str]:
    """The school, the day, when to leave, when it was printed; always the same number of rows."""
    right = ", ".join(each for each in (page, say_printed(sheet)) if each)
    leave = say_leave(sheet) + ("  A substitute teaches: no class goes on." if sheet.substitute else "")
    return [
        _two_ends(f"CART SHEET  {sheet.school}", say_day(sheet), width),
        _two_ends(leave, right, width),
    ]


def _two_ends(left: str, right: str, width: int) -> str:
    """Both in one row; the left one is shortened where there is not room."""
    right = shorten(right, width)
    left = shorten(left, max(0, width - width_of(right) - 2)) if width - width_of(right) > 5 else ""
    return f"{left}{' ' * (width - width_of(left) - width_of(right))}{right}"


def _foot(sheet: CartSheet, width: int) -> list[str]:
    said = " ".join(f"{what}: {to_do}" for what, to_do in EMERGENCY)
    behind = say_behind(sheet)
    return [
        *(wrap(f"AFTER SCHOOL {behind}", first=">> ", indent=3, width=width) if behind else []),
        *wrap(f"{said} {LOCAL_RULES}", first="== ", indent=3, width=width),
    ]


def _parts(sheet: CartSheet, width: int, cuts: Sequence[int]) -> list[list[str]]:
    """The visits, each with the stop at the store before it. ``cuts``: how many facts of each to cut."""
    if sheet.why_no_visits:
        return [[shorten(f"Nothing to take along: {sheet.why_no_visits}.", width)]]
    stops = {stop.before_visit: stop for stop in sheet.stops}
    parts: list[list[str]] = []
    for n, block in enumerate(sheet.visits):
        stop = stops.get(block.number)
        said = " ".join(f"{label} {text}.".lstrip() for label, text in say_stop(stop)) if stop else ""
        said = said.replace("?.", "?")
        rows = wrap(said, first=">> ", indent=3, width=width) if said else []
        parts.append([*rows, *_visit_rows(block, width, cuts[n] if cuts else 0)])
    return parts


def _visit_rows(block: VisitBlock, width: int, cut: int) -> list[str]:
    taught = ["taught: ____________________"] if block.to_decide else []
    return [
        *_ruled(f"{say_visit(block)}  {say_children(block)}", say_clean_up(block), width),
        *_lesson(block, width),
        *_facts(block, width, cut),
        *_counts(block, width),
        *_in_pieces([*taught, *(f"[ ] {each}" for each in say_ticks(block))], width),
        *_in_pieces([f"{what} {'_' * blank}" for what, blank in zip(NOTED, _BLANKS, strict=True)], width),
    ]


def _facts(block: VisitBlock, width: int, cut: int) -> list[str]:
    """What is said of a visit, without the last ``cut`` facts: those of the highest rank stand last."""
    facts = list(facts_of_block(block))
    kept = facts[: len(facts) - cut]
    sentences = []
    for n, each in enumerate(kept):
        same = n > 0 and kept[n - 1].label == each.label
        label = "" if same else f"{each.label.replace(' ', _STUCK)}{_STUCK}"
        sentences.append(f"{label}{each.text.rstrip('.')}.")
    if cut:
        sentences.append(f"({cut} more on the screen)")
    return _flow(" ".join(sentences), width)


def _counts(block: VisitBlock, width: int) -> list[str]:
    """What is counted out and back; a name may go on in the next row, the place to write on not."""
    said = [
        f"OUT{_STUCK}{each.out}{_STUCK}BACK{_STUCK}____{_STUCK}{say_counted(each, block)}" for each in block.counted
    ]
    return _flow("; ".join(said), width)


def _flow(said: str, width: int) -> list[str]:
    rows = wrap(said, first=_MARGIN, indent=len(_MARGIN), width=width)
    return [row.replace(_STUCK, " ") for row in rows] if said else []


def _ruled(left: str, right: str, width: int) -> list[str]:
    """A heading across the page, with a rule between its two ends."""
    gap = width - width_of(left) - width_of(right) - 2
    if gap >= 1:
        return [f"{left} {'-' * gap} {right}"]
    first, *others = wrap(f"{left}, {right}", indent=len(_MARGIN), width=width)
    return [first.lstrip(), *others]


def _lesson(block: VisitBlock, width: int) -> list[str]:
    """What is taught and where she comes from; of the title of a part as much as there is room for."""
    way = say_way(block)
    room = width - len(_MARGIN) - width_of(way) - 2
    taught = say_taught(block)
    if width_of(taught) > room and len(block.taught) == 1:
        short = max(0, room - width_of(taught) + width_of(block.taught[0].title))
        taught = say_taught(block, title=shorten(block.taught[0].title, short) if short >= _LEAST_TITLE else "")
    if width_of(taught) > room:
        return wrap(f"{taught}; {way}", first=_MARGIN, indent=len(_MARGIN), width=width)
    return [f"{_MARGIN}{taught}{' ' * (room + 2 - width_of(taught))}{way}"]


def _in_pieces(pieces: Iterable[str], width: int) -> list[str]:
    """Pieces that are not cut in two, beside one another as far as there is room."""
    rows: list[str] = []
    for piece in pieces:
        if rows and width_of(rows[-1]) + 2 + width_of(piece) <= width:
            rows[-1] += f"  {piece}"
        else:
            rows += wrap(piece, first=_MARGIN, indent=len(_MARGIN), width=width)
    return rows
