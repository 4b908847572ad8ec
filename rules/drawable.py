"""What a figure can do without."""

from __future__ import annotations

from collections.abc import Callable
from typing import TypeVar

from swaplint.api import ImpossibleInput, OutsideRange, given

T = TypeVar("T")


def where_known(question: Callable[[], T]) -> T | None:
    """What a question comes to; None where a field is not stated, a part not fitted, or a formula does not hold."""
    try:
        return given(question)
    except (OutsideRange, ImpossibleInput):
        return None
