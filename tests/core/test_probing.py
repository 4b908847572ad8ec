"""A probing view goes on with typical values, so that a rule can name all that it lacks and not only the first."""

from __future__ import annotations

from swaplint.build.view import View
from swaplint.kit.edits import edited_spec
from swaplint.kit.trial import one
from swaplint.spec.loading import load_text


def test_a_list_that_is_not_stated_has_one_typical_item() -> None:
    view = View(load_text("").build, probing=True)
    (ratio,) = view.build.driveline.gearbox.ratios
    assert ratio > 0.0


def test_all_that_a_rule_lacks_is_named() -> None:
    edits = {"driveline.gearbox.ratios": None, "engine.speed.rated": None}
    finding = one("gearing.cruise-rpm", edits, demand="rated-speed")
    assert {"driveline.gearbox.ratios", "engine.speed.rated"} <= set(finding.unknown)
    assert edited_spec({"driveline.gearbox.ratios": None}).stated("driveline.gearbox.ratios[1]") is None
