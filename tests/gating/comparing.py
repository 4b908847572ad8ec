"""Two small builds, inspected with rules made on the spot, one beside the other."""

from __future__ import annotations

import json
from collections.abc import Sequence
from pathlib import Path
from typing import Any

from swaplint.api import Rule
from swaplint.gating.comparison import compare_with_report, compare_with_spec
from swaplint.gating.earlier import earlier_of
from swaplint.gating.earlier_report import read_report
from swaplint.host.packs import LoadedPack, RuleBase
from swaplint.inspecting.baseline import Baseline
from swaplint.inspecting.inspection import inspect
from swaplint.inspecting.results import Inspection, Report
from swaplint.reports.json_report import dumps, inspection_json
from swaplint.spec.job import Stage
from swaplint.spec.loading import load_text

Json = dict[str, Any]


def base_of(rules: Sequence[Rule], version: str = "1.0") -> RuleBase:
    return RuleBase([LoadedPack("made-up", version, False, list(rules))])


def inspected(base: RuleBase, toml: str, stage: Stage = "quote", label: str = "s.toml") -> Inspection:
    return inspect(base, load_text(toml, label=label), stage)[0]


def report_json(base: RuleBase, *inspections: Inspection) -> Json:
    return inspection_json(Report("0.1.0", base.packs, list(inspections)), "error")


def kept(folder: Path, data: Json, name: str = "old.json") -> Path:
    file = folder / name
    file.write_text(dumps(data), encoding="utf-8")
    return file


def against_report(
    folder: Path,
    old: tuple[RuleBase, str],
    new: tuple[RuleBase, str],
    stages: tuple[Stage, Stage] = ("quote", "quote"),
    label: str = "s.toml",
) -> tuple[Inspection, Baseline]:
    """The new build beside a report of the old one, which went through a file."""
    file = kept(folder, report_json(old[0], inspected(*old, stages[0])))
    today = inspected(*new, stages[1], label)
    today.baseline = compare_with_report(new[0], today, read_report(str(file)))
    return today, today.baseline


def against_spec(old: str, new: tuple[RuleBase, str]) -> tuple[Inspection, Baseline]:
    """The new build beside the old one, inspected now."""
    today = inspected(*new)
    today.baseline = compare_with_spec(new[0], today, earlier_of(inspected(new[0], old, label="old.toml")))
    return today, today.baseline


def states(inspection: Inspection) -> dict[str, str]:
    """The state of each result: by part where there is one, else by its rule; with the demand."""
    assert inspection.baseline is not None
    return {
        " ".join(filter(None, (f.part or f.rule.id, f.demand))): inspection.baseline.state(f.key)
        for f in inspection.findings
    }


def lines_of(data: Json) -> str:
    """A report as a stream of lines."""
    last = {key: value for key, value in data.items() if key != "specs"}
    return "".join(json.dumps(one) + "\n" for one in (*data["specs"], last))
