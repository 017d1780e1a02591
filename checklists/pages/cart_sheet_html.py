"""The cart sheet as one HTML page that needs nothing else: no script, no picture, nothing from a network.

It prints in black on US letter and on A4: what is laid out fits into the smaller width and the smaller height of both.
Every text of the plan is escaped.
"""

from __future__ import annotations

from collections.abc import Iterable
from html import escape

from checklists.pages.cart_sheet_records import CartSheet, Counted, Stop, VisitBlock
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

MARGIN_MM = 7
WIDTH_MM = 190
"""Of what is laid out: within the margins of A4, the narrower of the two papers."""

STYLE = f"""
@page {{ margin: {MARGIN_MM}mm; }}
html {{ background: white; color: black; color-scheme: only light; }}
body {{ margin: 0 auto; max-width: {WIDTH_MM}mm; font: 11pt/1.1 Arial, 'Liberation Sans', Helvetica, sans-serif; }}
h1 {{ font-size: 13pt; margin: 0; }}
h2 {{ font-size: 16pt; line-height: 1; margin: 0; }}
p {{ margin: 0; }}
.ends {{ display: flex; justify-content: space-between; align-items: baseline; column-gap: 4mm; }}
.ends > :last-child {{ text-align: right; flex: none; max-width: 50%; }}
.big {{ font-size: 13pt; font-weight: bold; }}
section, .stop, footer {{ break-inside: avoid; page-break-inside: avoid; overflow-wrap: anywhere; }}
section {{ border-top: 0.6mm solid black; padding-top: 0.2mm; margin-top: 0.6mm; }}
.stop {{ break-after: avoid; page-break-after: avoid; border: 0.4mm dashed black; padding: 0 1mm; margin-top: 0.6mm; }}
footer {{ border-top: 0.6mm solid black; margin-top: 0.6mm; }}
.fill {{ display: flex; flex-wrap: wrap; column-gap: 4mm; row-gap: 0.5mm; padding-top: 0.4mm; }}
.fill span {{ white-space: nowrap; }}
.box {{ display: inline-block; width: 3mm; height: 3mm; border: 0.3mm solid black; margin-right: 1mm; }}
.blank {{ display: inline-block; min-width: 9mm; border-bottom: 0.3mm solid black; }}
.wide {{ flex: 1 1 20mm; display: flex; }}
.wide .blank {{ flex: 1; margin-left: 1mm; }}
"""


def cart_sheet_html(sheet: CartSheet) -> str:
    """The whole page."""
    title = escape(f"Cart sheet, {sheet.school}, {say_day(sheet)}")
    head = [
        "<!DOCTYPE html>",
        '<html lang="en">',
        "<head>",
        '<meta charset="utf-8">',
        f"<title>{title}</title>",
        f"<style>{STYLE}</style>",
        "</head>",
        "<body>",
    ]
    return "\n".join([*head, *_header(sheet), *_body(sheet), *_footer(sheet), "</body>", "</html>", ""])


def _header(sheet: CartSheet) -> Iterable[str]:
    leave = say_leave(sheet) + (". A substitute teaches: no class goes on." if sheet.substitute else "")
    yield "<header>"
    yield f'<div class="ends"><h1>{escape(sheet.school)}</h1><p class="big">{escape(say_day(sheet))}</p></div>'
    yield f'<div class="ends"><p class="big">{escape(leave)}</p><p>{escape(say_printed(sheet))}</p></div>'
    yield "</header>"


def _body(sheet: CartSheet) -> Iterable[str]:
    if sheet.why_no_visits:
        yield f"<section><p>Nothing to take along: {escape(sheet.why_no_visits)}.</p></section>"
    stops = {stop.before_visit: stop for stop in sheet.stops}
    for block in sheet.visits:
        stop = stops.get(block.number)
        if stop is not None:
            yield _stop(stop)
        yield from _visit(block)


def _stop(stop: Stop) -> str:
    said = " ".join(
        f"{_label(label)}{escape(text)}{'' if text.endswith('?') else '.'}" for label, text in say_stop(stop)
    )
    return f'<p class="stop">{said}</p>'


def _visit(block: VisitBlock) -> Iterable[str]:
    yield "<section>"
    clean_up, children = escape(say_clean_up(block)), escape(say_children(block))
    yield f'<div class="ends"><h2>{escape(say_visit(block))}</h2><p>{children}</p><p class="big">{clean_up}</p></div>'
    taught = f"<b>{escape(say_taught(block))}</b>"
    yield f'<div class="ends"><p>{taught}</p><p>{escape(say_way(block))}</p></div>'
    yield f"<p>{' '.join(_facts(block))}</p>"
    if block.counted:
        yield f'<div class="fill">{"".join(_count(each, block) for each in block.counted)}</div>'
    chosen = f'<span class="wide">taught{_blank()}</span>' if block.to_decide else ""
    absent, *others = map(_noted, NOTED)
    yield f'<div class="fill">{chosen}{"".join(map(_tick, say_ticks(block)))}{absent}</div>'
    yield f'<div class="fill">{"".join(others)}</div>'
    yield "</section>"


def _facts(block: VisitBlock) -> Iterable[str]:
    before = ""
    for fact in facts_of_block(block):
        label = _label(fact.label) if fact.label != before else ""
        yield f"{label}{escape(fact.text.rstrip('.'))}."
        before = fact.label


def _label(label: str) -> str:
    return f"<b>{escape(label)}</b> " if label else ""


def _count(counted: Counted, block: VisitBlock) -> str:
    return f"<span>OUT <b>{counted.out}</b> BACK {_blank()} {escape(say_counted(counted, block))}</span>"


def _tick(said: str) -> str:
    """What is written with underscores in the words gets a line to write on."""
    words = _blank().join(escape(each) for each in said.split("___"))
    return f'<span><span class="box"></span>{words}</span>'


def _noted(what: str) -> str:
    return f'<span class="wide">{escape(what)}{_blank()}</span>'


def _blank() -> str:
    return '<span class="blank"></span>'


def _footer(sheet: CartSheet) -> Iterable[str]:
    behind = say_behind(sheet)
    if behind:
        yield f'<p class="stop">{_label("AFTER SCHOOL")}{escape(behind)}</p>'
    said = " ".join(f"<b>{escape(what)}:</b> {escape(to_do)}" for what, to_do in EMERGENCY)
    yield f"<footer><p>{said} {escape(LOCAL_RULES)}</p></footer>"
