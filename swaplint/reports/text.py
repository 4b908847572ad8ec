"""The text report of `inspect`: one short sheet a spec, or the whole sheet, or from three specs on a line each."""

from __future__ import annotations

from swaplint.gating.gate import GateLevel, gate_of
from swaplint.inspecting.results import Report
from swaplint.reports.head import add_end, add_head
from swaplint.reports.layout import Sheet
from swaplint.reports.many_text import add_table
from swaplint.reports.short_text import add_short
from swaplint.reports.values import units_for
from swaplint.reports.whole_text import add_whole
from swaplint.units.showing import showing_in

MANY = 3
"""From this many specs on each has a line."""


def inspection_sheet(
    report: Report, width: int, level: GateLevel, *, whole: bool = False, unreadable: int = 0
) -> Sheet:
    """Every inspected spec; `whole` gives every result of each with all that it rests on.

    `unreadable` is how many others were named: the layout is that of the call, whatever became of them.
    """
    sheet = Sheet.of_width(width)
    if report.inspections and len(report.inspections) + unreadable >= MANY and not whole:
        add_table(sheet, report.inspections, level, unreadable)
    else:
        for inspection in report.inspections:
            with showing_in(units_for(inspection.spec)):
                add_head(sheet, report, inspection, gate_of(inspection, level))
                if inspection.baseline is not None:
                    # Imported here: most calls compare nothing.
                    from swaplint.reports.baseline_text import add_compared

                    add_compared(sheet, inspection, inspection.baseline, whole=whole)
                # One thing that is asked for by name is wanted whole.
                (add_whole if whole or inspection.selection else add_short)(sheet, inspection)
    if report.inspections:
        add_end(sheet)
    return sheet
