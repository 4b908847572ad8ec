"""Collections of a spec written as tables beside it, for tests."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from swaplint.spec.table_text import table_text


def cells(part: Mapping[str, Any], path: str = "") -> dict[str, str]:
    """What a part states, by the column of each value."""
    out: dict[str, str] = {}
    for key, value in part.items():
        here = f"{path}{key}"
        if isinstance(value, dict) and "value" in value:
            out[here] = _said(value["value"])
            out.update({f"{here}.{beside}": _said(value[beside]) for beside in value if beside != "value"})
        elif isinstance(value, dict):
            out.update(cells(value, f"{here}."))
        elif isinstance(value, list):
            out[here] = "; ".join(_said(one) for one in value)
        else:
            out[here] = _said(value)
    return out


def _said(value: object) -> str:
    return str(value).lower() if isinstance(value, bool) else str(value)


def as_table(collection: Any) -> str:
    """A collection of parts, named or listed, as the text of a table."""
    rows: list[dict[str, str]]
    if isinstance(collection, dict):
        rows = [{"name": name, **cells(part)} for name, part in collection.items()]
    else:
        rows = [cells(part) for part in collection]
    header = list(dict.fromkeys(column for row in rows for column in row))
    return table_text(header, [[row.get(column, "") for column in header] for row in rows])
