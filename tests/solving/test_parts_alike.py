"""Parts alike: which of them a star names, and what becomes of their values in a remedy."""

import re
from pathlib import Path

import pytest

from swaplint.build.view import View
from swaplint.host.packs import RuleBase
from swaplint.inspecting.inspection import inspect
from swaplint.kit.trial import rule_base
from swaplint.solving.sizing import size
from swaplint.solving.what_if import WhatIf, facts_for, fields_like, matches
from swaplint.solving.whole import inspect_whole
from swaplint.spec.facts import Stated
from swaplint.spec.loading import load_spec, load_text

from .worlds import only, whole

TENDER, VAN = Path("specs/tarnholt-tender.toml"), Path("specs/skerrivar-van.toml")
STARTER = "electrics.cables.*[role=starter].size"


def pack(name: str) -> RuleBase:
    base = rule_base()
    return RuleBase([loaded for loaded in base.packs if loaded.name == name], [], base.model)


def test_a_star_with_a_condition_names_the_parts_that_meet_it() -> None:
    spec = load_spec(str(TENDER), model=rule_base().model)
    assert fields_like(STARTER, spec) == ("electrics.cables.battery.size", "electrics.cables.starter.size")
    assert fields_like("electrics.cables.*[role=no-such-role].size", spec) == ()
    assert fields_like(STARTER, spec, part="electrics.cables.ecm") == ()
    facts = facts_for(rule_base(), STARTER)
    assert facts is not None
    assert facts.kind_name == "conductor"
    assert matches(STARTER, "electrics.cables.battery.size")


def test_an_axle_that_is_not_driven_keeps_its_ratio() -> None:
    """The van's front axle turns nothing: no rule asks for its ratio, and a change of all ratios leaves it alone."""
    base = pack("gearing")
    spec = load_spec(str(VAN), model=base.model)
    inspection, _ = inspect_whole(base, spec)
    remedies = only(inspection, "gearing.startability", "solo").remedies
    ratio = next(r for r in remedies if r.field.startswith("driveline.axles"))
    assert ratio.fields == ("driveline.axles.rear.ratio",)
    assert ratio.field == "driveline.axles.rear.ratio"
    view = View(spec.build)
    stated, _ = inspect(base, spec, None, view)
    sizing = size(WhatIf(base, spec, stated.stage, view), stated, "driveline.axles.*.ratio")
    assert sizing.fields == ("driveline.axles.rear.ratio",)


def test_a_starter_cable_is_found_whatever_its_name() -> None:
    text = TENDER.read_text(encoding="utf-8")
    text = text.replace("[electrics.cables.starter]", "[electrics.cables.along_the_frame]")
    start, end = text.index("[electrics.cables.battery]"), text.index("[electrics.cables.link]")
    text = text[:start] + text[start:end].replace("70 mm2", "50 mm2") + text[end:]
    base = pack("power")
    spec = load_text(text, label="renamed.toml", folder=TENDER.parent, model=base.model)
    inspection, _ = inspect_whole(base, spec)
    found = only(inspection, "power.crank-loop")
    assert found.kind == "fail"
    assert found.subject == "electrics.cables.along_the_frame.size"
    remedy = next(r for r in found.remedies if r.field == STARTER)
    assert remedy.fields == ("electrics.cables.battery.size", "electrics.cables.along_the_frame.size")
    assert remedy.written == "70 mm2"


def test_a_remedy_keeps_the_tolerance_that_the_file_states() -> None:
    """806 mm to 2 %, cruise band up to 2000 r/min: D·0.98 ≥ 806·2099.05/2000 mm, not D alone."""
    edits = {
        "engine.speed.cruise_high": "2000 r/min",
        "driveline.tyres.overall_diameter": {"value": "806 mm", "tol": "2 %", "basis": "assumed"},
    }
    found = only(whole(edits, "quote"), "gearing.cruise-rpm", "cruise-band")
    taller = next(r for r in found.remedies if r.field == "driveline.tyres.overall_diameter")
    needed = 0.806 * 2099.05 / 2000
    assert isinstance(taller.after, float)
    assert needed / 0.98 <= taller.after <= 1.01 * needed / 0.98
    edits["driveline.tyres.overall_diameter"] = {"value": f"{taller.after * 1e3:g} mm", "tol": "2 %"}
    assert only(whole(edits, "quote"), "gearing.cruise-rpm", "cruise-band").kind == "pass"


def test_a_value_where_a_rule_cannot_judge_is_no_window() -> None:
    """With next to no air the radiator's formula does not hold: that is not a stretch of air flows that pass."""
    base = pack("cooling")
    spec = load_spec(str(TENDER), model=base.model)
    view = View(spec.build)
    inspection, _ = inspect(base, spec, None, view)
    field = "plumbing.cooling.air.rated.flow"
    what_if = WhatIf(base, spec, inspection.stage, view)
    sizing = size(what_if, inspection, field)
    (window,) = sizing.windows
    assert window.bound_low is not None
    binding = base.find(window.bound_low)
    assert binding is not None
    for factor, fails in ((0.999, True), (1.001, False)):
        found = what_if.judgements_on(binding, view.changed({field: Stated(window.low * factor)}))
        assert any(one.kind == "fail" for one in found) is fails


def test_the_text_of_size_shows_each_rule_by_itself(capsys: pytest.CaptureFixture[str]) -> None:
    from swaplint.cli import main

    assert main(["size", str(TENDER), "engine.speed.idle"]) == 0
    out = capsys.readouterr().out
    assert "Nowhere in the plausible range" in out
    assert re.search(r"gearing\.crawl\s+up to 97\d\.?\d* r/min", out)
    assert re.search(r"power\.charge-balance\s+from 1080 r/min on", out)
