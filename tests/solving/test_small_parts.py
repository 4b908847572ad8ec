"""What solving is made of: how far a verdict moves, which of two findings is the worse, where a search ends early."""

from __future__ import annotations

import functools
import math
from dataclasses import replace

import pytest

from swaplint.inspecting.inspection import inspect
from swaplint.inspecting.results import Finding
from swaplint.kit.edits import sound_spec
from swaplint.kit.trial import rule_base
from swaplint.solving import tolerance
from swaplint.solving.turning import moved


@functools.cache
def finding() -> Finding:
    base = rule_base()
    inspection, _ = inspect(base, sound_spec(base))
    return next(one for one in inspection.findings if one.kind == "pass" and one.margin is not None)


def one(kind: str, margin: float | None = None) -> Finding:
    return replace(finding(), kind=kind, margin=margin)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("before", "after", "moves"),
    [
        (("pass", 0.3), ("pass", 0.1), 0.2),
        (("pass", 0.1), ("pass", 0.3), 0.2),
        (("pass", 0.1), ("fail", -0.1), math.inf),
        (("pass", None), ("pass", None), math.inf),
        (("open", None), ("open", None), 0.0),
        (("review", None), ("review", None), 0.0),
        (("review", 0.2), ("review", None), math.inf),
    ],
)
def test_how_far_a_verdict_moves(
    before: tuple[str, float | None], after: tuple[str, float | None], moves: float
) -> None:
    assert moved({"a": one(*before)}, {"a": one(*after)}) == {"a": pytest.approx(moves)}
    assert moved({"a": one(*before)}, {}) == {"a": math.inf}


def test_what_nobody_can_decide_is_looked_for_before_a_fail_and_that_before_a_pass() -> None:
    in_order = [None, one("open"), one("review"), one("review", 3.0), one("fail", -0.5), one("pass", 0.0), one("pass")]
    scores = [tolerance._score(each) for each in in_order]
    assert scores == sorted(scores)
    assert tolerance._score(one("pass", 9.0)) == tolerance._score(one("pass", 4.0))
    assert tolerance._score(one("pass", 0.2)) > tolerance._score(one("pass", 0.1))
