"""A customer's copy: the results without what anything costs."""

from __future__ import annotations

import re
from dataclasses import replace

from swaplint.inspecting.results import Finding, Inspection
from swaplint.inspecting.worksheet import Worksheet
from swaplint.spec.systems.supply import PRICES

LEFT_OUT = "What this rests on are prices, which this copy leaves out."


def without_prices(inspection: Inspection) -> None:
    """Take prices, and all that is worked out of them, out of the results; what they came to stays.

    The gate is the same: a sum that is wrong shuts it in the customer's copy as well.
    """
    inspection.findings = [_without(finding) for finding in inspection.findings]


def worksheet_without_prices(sheet: Worksheet) -> None:
    """Take prices, and all that is worked out of them, out of a worksheet."""
    priced = {(e.quantity.id, e.subject) for e in sheet.entries if any(map(_is_price, e.inputs))}
    before = -1
    while before < len(priced):
        before = len(priced)
        priced |= {
            (e.quantity.id, e.subject) for e in sheet.entries if any((t.id, t.subject) in priced for t in e.terms)
        }
    sheet.entries = [entry for entry in sheet.entries if (entry.quantity.id, entry.subject) not in priced]


def _without(finding: Finding) -> Finding:
    inputs = tuple(path for path in finding.inputs if not _is_price(path))
    if len(inputs) == len(finding.inputs):
        return finding
    return replace(
        finding,
        message=LEFT_OUT,
        found=None,
        limit=None,
        margin=None,
        inputs=inputs,
        deciding=(),
        advice=(),
        remedies=(),
        why="",
    )


def _is_price(path: str) -> bool:
    return re.sub(r"\[[0-9]+\]", "[]", path) in PRICES
