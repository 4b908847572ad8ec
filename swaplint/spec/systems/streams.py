"""Alike parts side by side that share a flow: twin pipes, two filters."""

from typing import Any

from swaplint.spec.fields import LOOK, count


def side_by_side(what: str) -> Any:
    """A field for how many alike parts share a flow."""
    return count(
        f"how many alike {what} stand side by side and share the flow; 1 where nothing is stated",
        typical=1,
        plausible=(1, 8),
        where=LOOK,
    )
