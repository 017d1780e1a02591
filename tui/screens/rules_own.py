"""What kind of rule is to be made of this line?"""

from __future__ import annotations

from datetime import date

from msgspec import structs
from textual.content import Content

from checklists.book import Book
from checklists.lines.records import Day, Line
from checklists.own_rules.choices import Proposal, proposals_for
from tui.rows import Row
from tui.rule_rows import begins
from tui.screens.choosing import ChoosingScreen


def proposals_of(book: Book, day: Day, line: Line) -> tuple[Proposal, ...]:
    """What can be made of a line; nothing where it is no supply."""
    return proposals_for(book.plan, book.rules, day, line)


def proposal_rows(proposals: tuple[Proposal, ...], typed: str) -> list[Row]:
    """Each proposal with the times at which it may count; the key is the place of both."""
    rows: list[Row] = []
    for place, proposal in enumerate(proposals):
        fitting = [
            Row("matter", f"{place} {number}", time.label)
            for number, time in enumerate(proposal.times)
            if begins(f"{proposal.label} {time.label}", typed)
        ]
        if fitting:
            rows.append(Row("heading", f"heading {place}", proposal.label, tone="heading"))
        rows += fitting
    return rows


class OwnRuleScreen(ChoosingScreen):
    """Short proposals: have it along, never, or more to spare, each at the times that fit the line."""

    TITLE_OF_KEYS = "A rule of your own"
    closes = False

    def __init__(self, on: date, name: str, proposals: tuple[Proposal, ...]) -> None:
        super().__init__(
            on,
            f"A rule of your own about {name}",
            lambda typed: proposal_rows(proposals, typed),
            self.open_proposal,
            nothing="No proposal has words that begin so.",
        )
        self.proposals = proposals
        self.kept = ""
        """What was kept, in words, once it was."""

    def question(self) -> tuple[Content, ...]:
        title = Content.assemble((self.asked, "bold"))
        return title, Content("Choose what and when; number, basis and what it would change come next.")

    def open_proposal(self, key: str) -> None:
        from tui.screens.rules_preview import RulePreviewScreen

        place, number = (int(each) for each in key.split())
        proposal = self.proposals[place]
        choice = structs.replace(proposal.choice, when=proposal.times[number].sentences)
        screen = RulePreviewScreen(self.date, choice, proposal.times)
        self.app.push_screen(screen, lambda _: self.take_kept(screen.kept))

    def take_kept(self, kept: str) -> None:
        """Once a rule is kept, nothing is left to choose."""
        self.kept = kept
        if kept:
            self.dismiss()
