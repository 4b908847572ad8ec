"""A customer's copy: the results without what anything costs."""

from __future__ import annotations

import re
from dataclasses import replace

from swaplint.inspecting.results import Finding, Inspection
from swaplint.spec.systems.supply import PRICES

LEFT_OUT = "What this rests on are prices, which this copy leaves out."


def without_prices(inspection: Inspection) -> None:
    """Take prices, and all that is worked out of them, out of the results; what they came to stays.

    The gate is the same: a sum that is wrong shuts it in the customer's copy as well.
    """
    inspection.findings = [_without(finding) for finding in inspection.findings]


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
