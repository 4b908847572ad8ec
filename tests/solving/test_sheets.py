"""Data sheets compared by `study` and `size`: each as if the spec itself named it."""

from __future__ import annotations

import json
import shutil
from pathlib import Path

import pytest

from swaplint.build.view import View
from swaplint.cli import main
from swaplint.host.packs import RuleBase, load_rule_base
from swaplint.inspecting.inspection import inspect
from swaplint.inspecting.results import Finding
from swaplint.solving.sizing import size
from swaplint.solving.study import Row, make_study, run
from swaplint.solving.tolerance import carry_tolerances
from swaplint.solving.variants import BadSheet, Variants, names_a_sheet
from swaplint.solving.what_if import WhatIf, facts_for, read_value
from swaplint.spec.editing import set_value
from swaplint.spec.loading import load_spec

SPECS = Path(__file__).parent.parent.parent / "specs"
ENGINES = [f"sheets/{name}.engine.toml" for name in ("corriemoor-six", "fellgate-four", "whinrigg-three")]
TYRES = [f"sheets/{name}.tyre.toml" for name in ("brannoch-track", "stennerley-snow")]


@pytest.fixture(scope="module")
def base() -> RuleBase:
    return load_rule_base()


def question(base: RuleBase, path: Path, stage: str | None = None) -> tuple[WhatIf, list[Finding], object]:
    spec = load_spec(str(path), model=base.model)
    view = View(spec.build)
    inspection, broken = inspect(base, spec, stage, view)  # type: ignore[arg-type]
    assert not broken
    return WhatIf(base, spec, inspection.stage, view), inspection.findings, inspection


def by_hand(base: RuleBase, folder: Path, path: tuple[str, ...], sheet: str) -> dict[str, set[str]]:
    """What each rule comes to on the spec with that sheet's name written into it, tolerances carried."""
    text = (folder / "tarnholt-tender.toml").read_text()
    other = folder / "other.toml"
    other.write_text(set_value(text, path, sheet))
    what_if, _, inspection = question(base, other)
    carry_tolerances(what_if, inspection)  # type: ignore[arg-type]
    kinds: dict[str, set[str]] = {}
    for finding in inspection.findings:  # type: ignore[attr-defined]
        kinds.setdefault(finding.rule.id, set()).add(finding.kind)
    return kinds


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    shutil.copytree(SPECS, tmp_path / "specs")
    return tmp_path / "specs"


@pytest.mark.parametrize(("field", "sheets"), [("engine.sheet", ENGINES), ("driveline.tyres.sheet", TYRES)])
def test_a_row_is_what_the_spec_comes_to_with_that_sheet(
    base: RuleBase, folder: Path, field: str, sheets: list[str]
) -> None:
    what_if, _, inspection = question(base, folder / "tarnholt-tender.toml")
    facts = facts_for(base, field)
    assert facts is not None
    study = make_study(what_if, inspection, [(field, [read_value(sheet, facts) for sheet in sheets])], [])  # type: ignore[arg-type]
    rows = {str(row.values[0].value): row for row in run(study, progress=lambda done: None)}
    assert list(rows) == [str(row.values[0].value) for row in sorted(rows.values(), key=lambda row: row.sort_key)]
    hand = {sheet: by_hand(base, folder, tuple(field.split(".")), sheet) for sheet in sheets}
    asked = {rule.id for rule in study.rules}
    for sheet, kinds in hand.items():
        row = rows[sheet]
        for kind, ids in (("fail", row.fails), ("review", row.reviews), ("open", row.opens)):
            # A rule with a fail and a review within tolerances is told by its fail.
            wanted = {id for id, found in kinds.items() if kind in found and id in asked}
            told = set(ids) | (set(row.fails) if kind == "review" else set())
            assert wanted <= told, (sheet, kind)
            assert set(ids) <= wanted, (sheet, kind)
        assert row.broken == ()
    # and no rule that says something else with another sheet is left out
    differing = {id for id in hand[sheets[0]] for sheet in sheets[1:] if hand[sheet].get(id) != hand[sheets[0]][id]}
    assert differing <= asked
    assert differing


def test_a_sheet_beside_another_field(base: RuleBase, folder: Path) -> None:
    """Sheet and value are varied together: each row is what the two give."""
    what_if, _, inspection = question(base, folder / "tarnholt-tender.toml")
    ratio = "driveline.axles.*.ratio"
    facts, ratios = facts_for(base, "engine.sheet"), facts_for(base, ratio)
    assert facts is not None
    assert ratios is not None
    vary = [
        ("engine.sheet", [read_value(sheet, facts) for sheet in ENGINES[:2]]),
        (ratio, [read_value(one, ratios) for one in ("4.1", "4.88")]),
    ]
    study = make_study(what_if, inspection, vary, ["gearing.cruise-rpm"])  # type: ignore[arg-type]
    rows = run(study, progress=lambda done: None)
    assert len(rows) == 4
    for row in rows:
        sheet, value = (stated.value for stated in row.values)
        text = set_value((folder / "tarnholt-tender.toml").read_text(), ("engine", "sheet"), sheet)
        for axle in ("front", "rear"):
            text = set_value(text, ("driveline", "axles", axle, "ratio"), value)
        (folder / "other.toml").write_text(text)
        _, findings, _ = question(base, folder / "other.toml")
        asked = {rule.id for rule in study.rules}
        assert set(row.fails) == {f.rule.id for f in findings if f.kind == "fail"} & asked


def test_size_among_sheets(base: RuleBase, folder: Path) -> None:
    what_if, _, inspection = question(base, folder / "tarnholt-tender.toml")
    field = "driveline.tyres.sheet"
    facts = facts_for(base, field)
    assert facts is not None
    sizing = size(what_if, inspection, field, [read_value(sheet, facts) for sheet in TYRES])  # type: ignore[arg-type]
    assert "mass.tyre-load" in sizing.rules
    track, snow = sizing.choices
    assert "mass.tyre-load" not in track.fails
    assert "mass.tyre-load" in snow.fails
    assert sizing.best is not None
    assert sizing.best.value == TYRES[0]
    assert "driveline.tyres.overall_diameter" in sizing.stated_anyway
    for choice, sheet in zip(sizing.choices, TYRES, strict=True):
        kinds = by_hand(base, folder, tuple(field.split(".")), sheet)
        assert set(choice.fails) == {id for id in sizing.rules if "fail" in kinds[id]}
        assert set(choice.opens) == {id for id in sizing.rules if "open" in kinds[id]}


def test_what_is_a_sheet(base: RuleBase) -> None:
    assert names_a_sheet(base.model, "engine.sheet")
    assert names_a_sheet(base.model, "electrics.batteries.*.sheet")
    assert not names_a_sheet(base.model, "engine.cylinders")
    assert not names_a_sheet(base.model, "build.name")


@pytest.mark.parametrize(
    ("sheet", "words"),
    [
        ("../../etc/hostname", "lies outside the spec's folder"),
        ("sheets/none.toml", "there is no data sheet 'sheets/none.toml'"),
        ("sheets/hexwell-220.clutch.toml", "cannot be read"),
    ],
)
def test_a_sheet_is_read_as_the_spec_would_read_it(base: RuleBase, folder: Path, sheet: str, words: str) -> None:
    what_if, _, _ = question(base, folder / "tarnholt-tender.toml")
    facts = facts_for(base, "engine.sheet")
    assert facts is not None
    with pytest.raises(BadSheet) as raised:
        Variants(what_if).case({"engine.sheet": read_value(sheet, facts)})
    assert words in str(raised.value)


def test_the_call_says_all_of_it(
    folder: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.chdir(folder)
    monkeypatch.setenv("COLUMNS", "80")
    call = ["study", "tarnholt-tender.toml", "--vary", f"engine.sheet={ENGINES[0]},{ENGINES[1]}"]
    assert main(call) == 0
    text = capsys.readouterr().out
    assert max(map(len, text.splitlines())) <= 80
    assert "The spec itself states" not in text  # of the engine it states nothing but the sheet
    assert "What fails in every combination, not said again below: chassis.brake-duty" in " ".join(text.split())
    assert text.count("chassis.brake-duty") == 1
    assert main(["size", "tarnholt-tender.toml", "driveline.tyres.sheet", "--among", ",".join(TYRES)]) == 0
    assert "The spec itself states driveline.tyres.count_front, " in " ".join(capsys.readouterr().out.split())
    assert main([*call, "--format", "json"]) == 0
    report = json.loads(capsys.readouterr().out)
    assert [row["values"]["engine.sheet"] for row in report["rows"]] == ENGINES[:2]
    assert all(row["opens"] == row["open"] and row["broken"] == [] for row in report["rows"])
    assert main([*call[:3], "engine.sheet=sheets/none.toml"]) == 2
    assert "there is no data sheet" in capsys.readouterr().err
    assert main(["size", "tarnholt-tender.toml", "engine.sheet"]) == 2
    assert "say with --among which to compare" in capsys.readouterr().err


BROKEN_PACK = '''
from swaplint.api import INTERFACE, Build, Pack, Verdict, at_most, hookimpl, practice, rule


@rule("fit.acme", level="error", due="quote", sources=[practice("x").giving("limit")], about="engine",
      bad=[{"engine.cylinders": 9}], good=[{"engine.cylinders": 4}])
def acme(build: Build) -> Verdict:
    """Does it fit?

    Computes: nothing.
    Limit: none.
    Consequence: it breaks.
    Remedy: none.
    Cannot tell: much.
    """
    cylinders = build.engine.cylinders
    if WHEN:
        raise RuntimeError("no")
    return at_most(float(cylinders), 8.0)


@hookimpl
def swaplint_pack() -> Pack:
    return Pack("acme", interface=INTERFACE, rules=[acme])
'''
SMALL = '[build]\nformat = 1\nstage = "plan"\n[engine]\ncylinders = 4\n'


@pytest.mark.parametrize("when", ["True", "cylinders == 6"])
def test_a_rule_that_breaks_is_named_and_passes_nothing(
    when: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """Whether it breaks on the build as it stands, or with one of the values only."""
    monkeypatch.chdir(tmp_path)
    Path("acme.py").write_text(BROKEN_PACK.replace("WHEN", when))
    Path("s.toml").write_text(SMALL)
    rest = ["--pack", "acme.py", "--rule", "fit.acme", "--format", "json"]
    main(["size", "s.toml", "engine.cylinders", "--among", "4,6", *rest])
    report = json.loads(capsys.readouterr().out)
    four, six = report["choices"]
    assert six["broken"] == ["fit.acme"]
    assert four["broken"] == (["fit.acme"] if when == "True" else [])
    if when != "True":
        assert (four["passes"], six["passes"]) == (True, False)
    assert report["best"] == (None if when == "True" else 4)
    main(["study", "s.toml", "--vary", "engine.cylinders=4,6", *rest])
    rows = json.loads(capsys.readouterr().out)["rows"]
    assert {row["values"]["engine.cylinders"]: row["broken"] for row in rows} == {
        4: ["fit.acme"] if when == "True" else [],
        6: ["fit.acme"],
    }
    main(["study", "s.toml", "--vary", "engine.cylinders=4,6", *rest[:-2]])
    assert "could not be run" in capsys.readouterr().out.lower()


def test_rows_that_know_less_do_not_come_first() -> None:
    def row(fails: tuple[str, ...] = (), broken: tuple[str, ...] = (), margin: float | None = 0.1) -> Row:
        return Row((), fails, (), (), broken, margin, None, ())

    ordered = sorted([row(broken=("a",)), row(("a",)), row(margin=None), row()], key=lambda one: one.sort_key)
    assert ordered[0] == row()
    assert ordered[1] == row(margin=None)
