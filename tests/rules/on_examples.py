"""The example specs with a few edits, as all rules find them."""

from __future__ import annotations

import functools
import tomllib
from collections.abc import Mapping
from pathlib import Path
from typing import Any

import tomli_w

from swaplint.build.view import View
from swaplint.inspecting.inspection import inspect, stage_of
from swaplint.inspecting.outcomes import Outcomes
from swaplint.inspecting.results import Finding
from swaplint.kit.edits import edited_data
from swaplint.kit.trial import rule_base
from swaplint.spec.differences import differences
from swaplint.spec.job import Stage
from swaplint.spec.loaded import LoadedSpec
from swaplint.spec.loading import load_text

SPECS = Path(__file__).parents[2] / "specs"


def found_on(name: str, edits: Mapping[str, Any] | None = None, stage: Stage | None = None) -> list[Finding]:
    """All findings of all packs on an example with edits made.

    Rules that an edit does not touch say what they say of the example as it stands, and are not asked again.
    """
    spec = _loaded(name, edits or {})
    judged_at = stage or stage_of(spec)
    before, kept = _as_it_stands(name, judged_at)
    view = View.following(before, spec.build, differences(before.build_model, spec.build))
    inspection, problems = inspect(rule_base(), spec, judged_at, view=view, kept=dict(kept))
    assert not problems
    return inspection.findings


def _loaded(name: str, edits: Mapping[str, Any]) -> LoadedSpec:
    text = tomli_w.dumps(edited_data(edits, _data(name)))
    return load_text(text, label=name, folder=SPECS, model=rule_base().model)


@functools.cache
def _data(name: str) -> dict[str, Any]:
    return tomllib.loads((SPECS / name).read_text(encoding="utf-8"))


@functools.cache
def _as_it_stands(name: str, stage: Stage) -> tuple[View, dict[str, Outcomes]]:
    spec = _loaded(name, {})
    view, kept = View(spec.build), dict[str, Outcomes]()
    inspect(rule_base(), spec, stage, view=view, kept=kept)
    return view, kept
