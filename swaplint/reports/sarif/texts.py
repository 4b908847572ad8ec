"""Texts as SARIF wants them: placeholders, links and lengths; and values as people read them."""

from __future__ import annotations

import math
from typing import Any

from swaplint.spec.fields import number_text
from swaplint.units import KINDS, UnitError, show, to_unit
from swaplint.verdicts import Limit

LONGEST_TEXT = 1024
"""Longest short or full description that consumers accept, in characters."""
LONGEST_NAME = 255


def literal(text: str) -> str:
    """A text in which nothing is a placeholder (SARIF 2.1.0, 3.11.5) or a link (3.11.6).

    >>> literal("a {0} in [b](1)")
    'a {{0}} in [b] (1)'
    """
    return escaped(unlinked(text))


def escaped(text: str) -> str:
    """A text in which nothing is a placeholder."""
    return text.replace("{", "{{").replace("}", "}}")


def unlinked(text: str) -> str:
    """A text in which nothing from a spec becomes a link in a viewer."""
    return text.replace("](", "] (")


def message(text: str) -> dict[str, Any]:
    """A SARIF message of literal text."""
    return {"text": literal(text)}


def shortened(text: str, longest: int = LONGEST_TEXT) -> str:
    """A text cut to a length, at a word where there is one."""
    if len(text) <= longest:
        return text
    head = text[: longest - 2]
    return (head.rsplit(" ", 1)[0] or head) + " …"


def sentence(text: str) -> str:
    """A text on one line that ends as a sentence does."""
    text = " ".join(text.split())
    return text if text.endswith((".", "?", "!")) else f"{text}."


def shown(si: float, quantity: str, unit: str) -> str:
    """A value as people read it, in the unit of the trade."""
    try:
        if quantity in KINDS:
            return show(si, unit, KINDS[quantity])
    except UnitError:
        pass  # a pack's own idea of a unit: shown as it comes
    return f"{number_text(float(f'{si:.4g}'))} {unit}".strip()


def shown_limit(limit: Limit, quantity: str, unit: str) -> str:
    """A limit as people read it: 'at most 10 kPa'."""
    if isinstance(limit.value, tuple):
        low, high = limit.value
        return f"{limit.relation} {shown(low, quantity, unit)} and {shown(high, quantity, unit)}"
    return f"{limit.relation} {shown(limit.value, quantity, unit)}"


def in_unit(si: float, quantity: str, unit: str) -> float | None:
    """A value in the unit of the trade, for machines; None where it is not finite."""
    if not math.isfinite(si):
        return None
    try:
        value = to_unit(si, unit, KINDS[quantity]) if quantity in KINDS else si
    except UnitError:
        value = si
    return float(f"{value:.12g}")
