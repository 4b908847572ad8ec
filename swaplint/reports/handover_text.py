"""The hand-over sheet as text."""

from __future__ import annotations

from swaplint.declare.cautions import CLOSING
from swaplint.making.handover import HandOver
from swaplint.reports.handover_words import sections, title_words
from swaplint.reports.layout import Sheet
from swaplint.reports.tables import add_table


def handover_sheet(made: HandOver, width: int) -> Sheet:
    """The whole sheet."""
    sheet = Sheet.of_width(width)
    title, says = title_words(made)
    sheet.wrapped(title, style="bold")
    for paragraph in says:
        sheet.wrapped(paragraph)
    for section in sections(made):
        sheet.heading(section.title.upper())
        for paragraph in section.says:
            sheet.wrapped(paragraph)
        for above, table in section.tables:
            if above:
                sheet.wrapped(above, style="bold")
            add_table(sheet, table, left=2 if above else 0)
        for point in section.points:
            sheet.wrapped(point, label="-", hang=2)
    sheet.blank()
    sheet.wrapped(CLOSING, style="italic")
    return sheet
