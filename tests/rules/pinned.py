"""The limit that a rule reports, for tests that pin it: numbers typed from the rule's source, in SI."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from swaplint.kit.trial import of_part, one


def limit_of(
    rule: str, demand: str = "", part: str = "", edits: Mapping[str, Any] | None = None
) -> tuple[str, float | tuple[float, float]]:
    """The relation and the limit of one demand of a rule, about one part where it judges several."""
    found = of_part(rule, part, edits, demand=demand) if part else one(rule, edits, demand=demand)
    assert found.limit is not None, f"{rule} reports no limit: {found.kind}, {found.message}"
    return found.limit.relation, found.limit.value
