"""Small functions of the intake pack, asked directly: what they give where no rule's verdict tells it apart."""

from __future__ import annotations

from typing import Any

import pytest
from swaplint_rules.intake import quantities as q  # type: ignore[import-not-found]

from swaplint.build.view import View
from swaplint.kit.edits import sound_spec
from swaplint.kit.trial import rule_base

DUCTS = "plumbing.intake.ducts"


def build(edits: dict[str, Any] | None = None) -> Any:
    return View(sound_spec(rule_base(), edits or {}).build).build


@pytest.mark.parametrize("bore", [0.070, 0.102])
@pytest.mark.parametrize("streams", [1, 2])
def test_ducts_of_one_bore_restrict_as_they_would_if_they_were_stated_so(bore: float, streams: int) -> None:
    made = build({f"{DUCTS}.*.side_by_side": streams})
    airs = [q.air_at(made, case) for case in q.cases(made)]
    stated = build({f"{DUCTS}.*.side_by_side": streams, f"{DUCTS}.*.bore": f"{1000 * bore} mm"})
    worst = max(q.restriction_clean(stated, case) for case in q.cases(stated))
    assert q.restriction_by_bore(made, airs)(bore) == pytest.approx(worst)
