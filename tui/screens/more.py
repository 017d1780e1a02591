"""The other pages of the program, for which the list of the morning has no key of its own."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from typing import ClassVar, NamedTuple

from textual import on
from textual.binding import BindingType
from textual.content import Content

from checklists.calendar import is_year_ending
from checklists.words import plural, say_date
from tui.keys import MORE, bindings_of
from tui.notices import is_without_day
from tui.rows import Row
from tui.screens.day_screen import DayScreen
from tui.screens.rows_screen import RowsScreen
from tui.widgets.line_list import LineList
from tui.widgets.question import Question


class OtherPage(NamedTuple):
    """One row of this list: what the page answers, and what opens it."""

    key: str
    meaning: str
    open: Callable[[MoreScreen], None]


class MoreScreen(RowsScreen):
    """Pages one after the other, each with its digit."""

    BINDINGS: ClassVar[list[BindingType]] = [*bindings_of(MORE)]
    KEYS = MORE
    TITLE_OF_KEYS = "More"

    def __init__(self, on: date, go_to_day: Callable[[date], None]) -> None:
        super().__init__(on)
        self.go_to_day = go_to_day

    def on_mount(self) -> None:
        self.reread()

    def reread(self) -> None:
        self.pages = pages_of(self)
        rows = [
            Row("matter", each.key, f"{number if number < 10 else ' '}  {each.meaning}")
            for number, each in enumerate(self.pages, 1)
        ]
        self.list.show(rows, key=self.key_in_hand)
        self.query_one(Question).show(Content.assemble(("What else?", "bold")))

    def action_digit(self, digit: str) -> None:
        if 1 <= int(digit) <= len(self.pages):
            self.pages[int(digit) - 1].open(self)

    def open_days(self) -> None:
        """Choose another day; then back to the list, which is that of the day then."""
        from tui.screens.days import DaysScreen

        def go(day: date) -> None:
            self.dismiss()
            self.go_to_day(day)

        self.app.push_screen(DaysScreen(self.date, go))

    def open_cart_sheet(self) -> None:
        from tui.screens.cart_sheet import CartSheetScreen

        self.app.push_screen(CartSheetScreen(self.trundle.recorder, self.date, self.trundle.now()))

    def save_waiting(self) -> None:
        """Back to packing, where it is said whether all is saved."""
        below = self.app.screen_stack[-2]
        self.dismiss()
        if isinstance(below, DayScreen):
            self.app.call_later(below.action_save_again)

    def open_route(self) -> None:
        from tui.screens.route import RouteScreen

        self.app.push_screen(RouteScreen(self.date))

    def open_versions(self) -> None:
        from tui.screens.versions import VersionsScreen

        self.app.push_screen(VersionsScreen(self.date))

    def open_look_back(self) -> None:
        from tui.screens.look_back import LookBackScreen

        self.app.push_screen(LookBackScreen(self.date))

    def open_new_year(self) -> None:
        from tui.screens.new_year import NewYearScreen

        self.app.push_screen(NewYearScreen(self.date))

    def open_backup(self) -> None:
        """Back everything up, or put a backup back; then the list is that of the day that suits what is here then."""
        from tui.screens.backup import BackupScreen

        def go(day: date) -> None:
            self.dismiss()
            self.go_to_day(day)

        self.app.push_screen(BackupScreen(self.date, go))

    def action_accept(self) -> None:
        page = next((each for each in self.pages if each.key == self.key_in_hand), None)
        if page is not None:
            page.open(self)

    @on(LineList.Pointed)
    def open_pointed(self, event: LineList.Pointed) -> None:
        """A second click opens it."""
        if event.again:
            self.action_accept()

    def open_unsaid_day(self) -> None:
        """Say who comes; then back to the list, which is that of the day then."""
        from tui.screens.say_day import SayDayScreen

        def go(day: date) -> None:
            self.dismiss()
            self.go_to_day(day)

        day = unsaid_of(self)
        if day is not None:
            self.app.push_screen(SayDayScreen(day, go, self.trundle))

    def open_own_school(self) -> None:
        """Leave the demo school; her own school, or the questions about it, comes in its place."""
        self.trundle.wants_own_school = True
        self.trundle.leave()

    def open_set_up(self) -> None:
        from tui.screens.plan_subjects import PlanSubjectsScreen

        self.app.push_screen(PlanSubjectsScreen(self.date))

    def open_where(self) -> None:
        from tui.screens.where import WhereScreen

        self.app.push_screen(WhereScreen(self.date))

    def open_guide(self) -> None:
        from tui.screens.guide import GuideScreen

        self.app.push_screen(GuideScreen())

    def open_lending(self) -> None:
        from tui.screens.lending import LendWhatScreen

        self.app.push_screen(LendWhatScreen(self.date))


def pages_of(screen: MoreScreen) -> tuple[OtherPage, ...]:
    """The pages there are now; what waits to be saved comes first."""
    waiting = screen.trundle.recorder.waiting
    again = (OtherPage("save again", f"Save again: {len(waiting)} not saved yet", MoreScreen.save_waiting),)
    now_and_then = (*_two_versions(screen), *_new_year(screen), *_unsaid_day(screen), *_own_school(screen))
    return (*(again if waiting else ()), *now_and_then, *PAGES)


def _unsaid_day(screen: MoreScreen) -> tuple[OtherPage, ...]:
    """Who comes on a day of a new school's timetable of which nobody has said anything yet."""
    day = unsaid_of(screen)
    if day is None:
        return ()
    from checklists.first_start.later_days import say_day

    called = say_day(screen.book.plan, screen.book.day(day).day_name)
    return (OtherPage("unsaid day", f"Say who comes on {called}", MoreScreen.open_unsaid_day),)


def unsaid_of(screen: MoreScreen) -> date | None:
    """Today, or the day of the list, where nobody has said who comes."""
    days = [each for each in (screen.trundle.now().date(), screen.date) if is_without_day(screen.book, each)]
    if not days:
        return None
    from checklists.first_start.later_days import first_unsaid

    return first_unsaid(screen.book, days)


def _own_school(screen: MoreScreen) -> tuple[OtherPage, ...]:
    """From the demo school to her own."""
    from checklists.demo import SIGN

    if not (screen.book.folder / SIGN).is_file():
        return ()
    return (OtherPage("own school", "Your own school: set it up, or open it", MoreScreen.open_own_school),)


def _new_year(screen: MoreScreen) -> tuple[OtherPage, ...]:
    """The next school year, once this one is over or nearly."""
    if not is_year_ending(screen.book.plan.school, screen.trundle.now().date()):
        return ()
    return (OtherPage("new year", "The next school year", MoreScreen.open_new_year),)


def _two_versions(screen: MoreScreen) -> tuple[OtherPage, ...]:
    """That a folder kept in step has made two versions of a day: nothing is merged before somebody has looked."""
    days = screen.book.days_in_two_versions
    if not days:
        return ()
    more = f" and of {plural(len(days) - 1, 'more day')}" if days[1:] else ""
    return (OtherPage("versions", f"Two versions of {say_date(days[0])}{more}", MoreScreen.open_versions),)


PAGES: tuple[OtherPage, ...] = (
    OtherPage("route", "The route: where to go next, what rides, minutes to spare", MoreScreen.open_route),
    OtherPage("days", "Another day: look ahead, tell or correct an earlier one", MoreScreen.open_days),
    OtherPage("cart sheet", "The cart sheet: the day on paper, to print and take along", MoreScreen.open_cart_sheet),
    OtherPage("where", "What is where: boxes, kits, folders, what is lent or missing", MoreScreen.open_where),
    OtherPage("lend", "Lend something, or take it back", MoreScreen.open_lending),
    OtherPage("set up", "Set up and change: classes, timetable, lessons, supplies, school", MoreScreen.open_set_up),
    OtherPage("guide", "The first morning, step by step", MoreScreen.open_guide),
    OtherPage("how it stands", "How it stands: every class, who is owed what", MoreScreen.open_look_back),
    OtherPage("backup", "Back up everything, or put a backup back", MoreScreen.open_backup),
    OtherPage("colours", "Colours for the day or for the evening", MoreScreen.action_colours),
)
