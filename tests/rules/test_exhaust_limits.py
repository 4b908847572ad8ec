"""Limits of the exhaust pack at their edges; the numbers as their sources state them."""

from __future__ import annotations

import pytest

from swaplint.kit.trial import trial


@pytest.mark.parametrize(("coldest", "heated"), [("-12 degC", True), ("-10 degC", False), ("10 degC", False)])
def test_reductant_freezes_at_eleven_degrees_below_zero(coldest: str, heated: bool) -> None:
    # a solution of 32.5 % urea begins to freeze at -11 °C (from memory)
    edits = {"build.design.ambient_min": coldest, "engine.reductant.heating_below": None}
    demands = {found.demand for found in trial("exhaust.reductant", edits)}
    assert ("tank-heating" in demands) is heated
    assert ("line-heating" in demands) is heated
