"""The JSON report of `takeoff`. Its format is a contract: fields are added, never renamed or dropped.

`{"format", "tool", "spec", "stage", "files": [{"file", "sha256"}], "lists": {list: {"title", "columns": {column:
heading}, "rows": [{"listing", "part", "cells": {column: {"value", "unit", "from", "unknown": [field…], "why"}},
"unknown": [field…], "doubts": [{"why", "about"}]}], "unknown": [{"listing", "fields", "why"}], "together": [{"cells",
"amount", "parts", "not_known", "doubts"}]}}, "problems"}`

A number stands in the unit beside it; `from` is the field or the quantity that gives it. `why` of a doubt is
`assumed`, `estimated`, `fallback`, `fails` or `review`, and `about` the field, the fallback by its name or the rule.
`together` adds up the rows that are alike.
"""

from __future__ import annotations

from typing import Any

from swaplint.declare.listings import LISTS
from swaplint.making.takeoff import Cell, Doubt, Gap, Order, Row, TakeOff, orders
from swaplint.reports.json_report import FORMAT, problem_json, tool_json
from swaplint.units.output import in_unit


def takeoff_json(made: TakeOff) -> dict[str, Any]:
    """A take-off as plain data, in metric units."""
    spec = made.inspection.spec
    return {
        "format": FORMAT,
        "tool": tool_json(made.packs),
        "spec": spec.label,
        "stage": made.inspection.stage,
        "files": [{"file": file.label, "sha256": file.sha256} for file in spec.files()],
        "lists": {
            name: {**list_json(made, name), "together": [_order(order) for order in orders(made, name)]}
            for name in made.rows
        },
        "problems": [problem_json(problem) for problem in made.problems],
    }


def list_json(made: TakeOff, name: str) -> dict[str, Any]:
    """The rows of one list."""
    kind = LISTS[name]
    return {
        "title": kind.title,
        "columns": dict(kind.columns),
        "rows": [_row(row) for row in made.rows[name]],
        "unknown": [_gap(gap) for gap in made.gaps[name]],
    }


def _row(row: Row) -> dict[str, Any]:
    return {
        "listing": row.listing.id,
        "part": row.part or None,
        "cells": {column: cell_json(cell) for column, cell in row.cells.items()},
        "unknown": list(row.unknown),
        "doubts": [_doubt(doubt) for doubt in row.doubts],
    }


def cell_json(cell: Cell) -> dict[str, Any]:
    """A cell: its value in the unit beside it, the field or quantity that gives it, or why there is none."""
    value: Any = list(cell.value) if isinstance(cell.value, tuple) else cell.value
    if isinstance(value, float):
        value = in_unit(value, cell.kind, cell.unit)
    return {
        "value": value,
        "unit": cell.unit or None,
        "from": cell.source or None,
        "unknown": list(cell.unknown),
        "why": cell.why or None,
    }


def _doubt(doubt: Doubt) -> dict[str, str]:
    return {"why": doubt.why, "about": doubt.about}


def _order(order: Order) -> dict[str, Any]:
    return {
        "cells": {column: cell_json(cell) for column, cell in order.cells},
        "amount": cell_json(order.amount),
        "parts": list(order.parts),
        "not_known": list(order.not_known),
        "doubts": [_doubt(doubt) for doubt in order.doubts],
    }


def _gap(gap: Gap) -> dict[str, Any]:
    return {"listing": gap.listing.id, "fields": list(gap.unknown), "why": gap.why or None}
