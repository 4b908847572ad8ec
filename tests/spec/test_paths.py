"""Field paths, as keys and as text."""

from __future__ import annotations

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from swaplint.spec.paths import path_key, path_text
from swaplint.spec.toml_source import PathKey

NAMES = st.from_regex(re.compile(r"[A-Za-z0-9_-]{1,12}"), fullmatch=True)
PATHS = st.tuples(NAMES, st.lists(st.one_of(NAMES, st.integers(0, 500)), max_size=6)).map(lambda p: (p[0], *p[1]))


@given(PATHS)
def test_text_and_keys_are_one_another(path: PathKey) -> None:
    assert path_key(path_text(path)) == path


@pytest.mark.parametrize(
    ("text", "keys"),
    [
        ("engine.speed.idle", ("engine", "speed", "idle")),
        ("driveline.gearbox.ratios[5]", ("driveline", "gearbox", "ratios", 4)),
        ("a[1][2].b", ("a", 0, 1, "b")),
        ("electrics.cables.starter-2.size", ("electrics", "cables", "starter-2", "size")),
        ("x.7", ("x", "7")),
    ],
)
def test_path_is_read(text: str, keys: PathKey) -> None:
    assert path_key(text) == keys
    assert path_text(keys) == text


@pytest.mark.parametrize(
    "text", ["", ".", "a.", ".a", "a..b", "a[", "a[]", "a[x]", "a]1[", "[1]", "a[-1]", "a[1]b", "a[1"]
)
def test_what_is_no_path_is_refused_with_an_example(text: str) -> None:
    with pytest.raises(ValueError, match=r"driveline\.gearbox\.ratios\[5\]"):
        path_key(text)


def test_items_are_counted_from_one() -> None:
    with pytest.raises(ValueError, match="counted from 1"):
        path_key("driveline.gearbox.ratios[0]")
