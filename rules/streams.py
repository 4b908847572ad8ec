"""Flows that divide between alike parts side by side."""

from __future__ import annotations

from typing import Protocol

from swaplint.api import given


class Shared(Protocol):
    """A part of which several may share a flow."""

    @property
    def side_by_side(self) -> float:
        """How many alike parts share the flow, as stated."""


def streams(part: Shared) -> float:
    """How many alike parts share the flow. One where the spec says nothing: that takes the most pressure."""
    stated = given(lambda: part.side_by_side)
    return 1.0 if stated is None else stated
