"""Specs to ask "what if" about."""

from collections.abc import Mapping
from typing import Any

from swaplint.build.view import View
from swaplint.host.packs import RuleBase
from swaplint.inspecting.inspection import inspect
from swaplint.inspecting.results import Finding, Inspection
from swaplint.kit.edits import sound_spec
from swaplint.kit.trial import rule_base
from swaplint.solving.what_if import WhatIf
from swaplint.solving.whole import inspect_whole
from swaplint.spec.job import Stage


def gearing_only() -> RuleBase:
    """The gearing pack by itself: what these tests work out by hand."""
    base = rule_base()
    return RuleBase([pack for pack in base.packs if pack.name == "gearing"], [], base.model)


def asked(edits: Mapping[str, Any] | None = None, stage: Stage | None = None) -> tuple[WhatIf, Inspection]:
    """The edited sound spec, inspected as stated and ready to be asked."""
    base = gearing_only()
    spec = sound_spec(base, edits)
    view = View(spec.build)
    inspection, problems = inspect(base, spec, stage, view)
    assert not problems
    return WhatIf(base, spec, inspection.stage, view), inspection


def whole(edits: Mapping[str, Any] | None = None, stage: Stage | None = None) -> Inspection:
    """The edited sound spec, inspected with tolerances and remedies."""
    base = gearing_only()
    inspection, problems = inspect_whole(base, sound_spec(base, edits), stage)
    assert not problems
    return inspection


def only(inspection: Inspection, rule: str, demand: str = "") -> Finding:
    """The one finding of a rule, or that of one of its demands."""
    findings = [f for f in inspection.findings if f.rule.id == rule and (not demand or f.demand == demand)]
    assert len(findings) == 1, [f.demand for f in findings]
    return findings[0]
