"""The text of shared things is made once, and is the same as if it were made each time."""

from __future__ import annotations

from typing import Any

import pytest

from swaplint.reports.json_text import Shared, json_text


@pytest.mark.parametrize("sort_keys", [False, True])
@pytest.mark.parametrize("unicode_only", [False, True])
@pytest.mark.parametrize("levels", [0, 1, 2, 3])
def test_shared_things_make_the_same_text(sort_keys: bool, unicode_only: bool, levels: int) -> None:
    one, two = {"b": "é\u2028\udc80", "a": [1.5, None]}, {"c": {}}

    def data(several: type[list[Any]]) -> dict[str, Any]:
        first = {"z": 1, "inputs": several([one, two]), "m": [], "a": "x", "sources": several([]), "b": True}
        return {"results": [first, {"inputs": several([one])}, {"q": several([two, one]), "r": {"s": several([one])}}]}

    def text(several: type[list[Any]]) -> str:
        return json_text(data(several), levels=levels, sort_keys=sort_keys, unicode_only=unicode_only)

    assert text(Shared) == text(list)
