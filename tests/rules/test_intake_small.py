"""Small functions of the intake pack, asked directly: what they give where no rule's verdict tells it apart."""

from __future__ import annotations

from typing import Any

import pytest
from swaplint_rules.intake import quantities as q  # type: ignore[import-not-found]

from swaplint.build.view import View
from swaplint.kit.edits import sound_spec
from swaplint.kit.trial import of_part, rule_base

DUCTS = "plumbing.intake.ducts"


def build(edits: dict[str, Any] | None = None) -> Any:
    return View(sound_spec(rule_base(), edits or {}).build).build


@pytest.mark.parametrize("bore", [0.070, 0.102])
@pytest.mark.parametrize("doubled", ["inlet", "filter_to_turbo", "*"])
def test_ducts_of_one_bore_restrict_as_they_would_if_they_were_stated_so(bore: float, doubled: str) -> None:
    twin = {f"{DUCTS}.{doubled}.side_by_side": 2}
    made = build(twin)
    airs = [q.air_at(made, case) for case in q.cases(made)]
    stated = build({**twin, f"{DUCTS}.*.bore": f"{1000 * bore} mm"})
    worst = max(q.restriction_clean(stated, case) for case in q.cases(stated))
    assert q.restriction_by_bore(made, airs)(bore) == pytest.approx(worst)


@pytest.mark.parametrize(
    ("flow", "none"),
    # 486 m³/h run at 48 m/s in 60 mm, which 89 mm mend; forty times as much would take half a metre, more than is made
    [(None, False), ("5 kg/s", True)],
)
def test_a_duct_that_no_bore_would_be_wide_enough_for(flow: str | None, none: bool) -> None:
    edits = {f"{DUCTS}.filter_to_turbo.bore": "60 mm"} if flow is None else {"engine.air.mass_flow": flow}
    found = of_part("intake.duct-velocity", "filter_to_turbo", edits)
    assert (found.kind, "No bore of the series would do." in found.message) == ("fail", none), found.message
    assert bool(found.advice) is not none
