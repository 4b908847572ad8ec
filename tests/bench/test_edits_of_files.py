"""A few dozen of the answers and kills of `tests/bench/edits.py`."""

from __future__ import annotations

import os

import pytest
from edits import edits, kills


def test_answers_put_into_generated_files_change_nothing_else() -> None:
    refused, wrong = edits(60, seed=3)
    assert wrong == []
    assert refused < 15


@pytest.mark.skipif(not hasattr(os, "fork"), reason="a process is killed here, which is made by forking")
def test_a_fill_that_is_killed_leaves_the_file_whole() -> None:
    caught, wrong = kills(5, seed=3)
    assert wrong == []
    assert caught
