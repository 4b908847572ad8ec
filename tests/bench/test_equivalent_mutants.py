"""The list of changes that make no difference is true of the code as it stands, and says why of each."""

from __future__ import annotations

import pytest
from mutants import EQUIVALENT
from mutations import ROOT, Change, Source, limits, listed, others

SAME = listed(EQUIVALENT)


@pytest.mark.parametrize("change", SAME, ids=lambda change: f"{change[0]}: {change[2][0][:40]}")
def test_a_listed_change_can_still_be_made_and_has_a_reason(change: Change) -> None:
    source = Source(ROOT / change[0])
    assert len(SAME[change]) > 20
    assert change in {mutant.change(source.bytes) for mutant in (*limits(source), *others(source))}
