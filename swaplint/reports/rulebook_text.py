"""The rulebook as text: the list of rules, and one rule whole."""

from __future__ import annotations

from collections.abc import Sequence

from swaplint.declare.cautions import CLOSING
from swaplint.declare.rule import Rule
from swaplint.host.packs import LoadedPack
from swaplint.reports.layout import Sheet
from swaplint.reports.naming import counted
from swaplint.reports.rulebook_page import Page
from swaplint.reports.rulebook_topics import Row, heads, topics

_INDENT = 3

Groups = Sequence[tuple[str, Sequence[tuple[LoadedPack, Rule]]]]
"""Rules with their packs, by system."""


def list_sheet(groups: Groups, width: int) -> Sheet:
    """Every rule with its question, by system."""
    sheet = Sheet.of_width(width)
    count = sum(len(rules) for _, rules in groups)
    sheet.wrapped(counted(count, "rule"), style="bold")
    for system, rules in groups:
        sheet.heading(f"{system.upper()} ({len(rules)})")
        for pack, rule in rules:
            whose = "" if pack.built_in else f", pack {pack.name}"
            sheet.leader(rule.id, f"{rule.level}, due {rule.due}{whose}")
            sheet.wrapped(rule.question, indent=_INDENT)
    sheet.blank()
    sheet.wrapped("'swaplint rulebook ID' explains one rule whole.", style="dim")
    return sheet


def page_sheet(page: Page, width: int) -> Sheet:
    """One rule, whole."""
    sheet = Sheet.of_width(width)
    sheet.wrapped(page.rule.question, style="bold")
    sheet.wrapped(page.rule.id, style="bold cyan")
    for line in heads(page):
        sheet.wrapped(line)
    for topic in topics(page):
        sheet.heading(topic.heading.upper())
        for paragraph in topic.paragraphs:
            sheet.wrapped(paragraph, style="yellow" if topic.heading == "Take care" else "")
        for row in topic.rows:
            _row(sheet, row)
    sheet.blank()
    sheet.wrapped(CLOSING, style="italic")
    return sheet


def _row(sheet: Sheet, row: Row) -> None:
    if row.right:
        sheet.leader(row.name, row.right)
    else:
        sheet.wrapped(row.name)
    for note in row.notes:
        sheet.wrapped(note, indent=_INDENT, style="dim")
