"""What the tests of several packs ask of advice."""

from __future__ import annotations

from typing import Any

from swaplint.inspecting.results import Finding


def advised(found: Finding) -> dict[str, Any]:
    """What a finding advises: the values, in SI, by field."""
    return {advice.field: advice.value for advice in found.advice}
