"""Remedies: the nearest change that passes, tried on the whole build."""

import json
import math
import tomllib
from pathlib import Path

import pytest

from swaplint import __version__
from swaplint.host.packs import load_rule_base
from swaplint.inspecting.results import Report
from swaplint.kit.edits import edited_spec
from swaplint.reports.sarif import sarif
from swaplint.solving import search
from swaplint.solving.whole import inspect_whole
from swaplint.spec.loading import load_spec

from .worlds import only, whole

RADIUS = 3.05 * 0.806 / (2 * math.pi)
RPM = 60 / (2 * math.pi)


def test_the_nearest_value_that_passes() -> None:
    # cruise band up to 2000 r/min needs i ≤ 2000/2099.05·4.3 = 4.0971
    found = only(whole({"engine.speed.cruise_high": "2000 r/min"}), "gearing.cruise-rpm", "cruise-band")
    by_field = {remedy.field: remedy for remedy in found.remedies}
    ratio = by_field["driveline.axles.*.ratio"]
    assert ratio.after == pytest.approx(4.09, abs=0.01)
    assert ratio.after <= 2000 / (80 / 3.6 * 3.87 / RADIUS * RPM) * 4.3
    assert ratio.fields == ("driveline.axles.front.ratio", "driveline.axles.rear.ratio")
    # a taller tyre does it, too: 806·2099.05/2000 = 845.9 mm
    assert by_field["driveline.tyres.overall_diameter"].after == pytest.approx(0.846, abs=0.001)


def test_a_remedy_says_what_it_breaks_and_mends() -> None:
    edits = {"engine.speed.cruise_high": "2000 r/min", "driveline.speedometer.calibrated_reading": 1.0}
    found = only(whole(edits), "gearing.cruise-rpm", "cruise-band")
    ratio = next(r for r in found.remedies if r.field == "driveline.axles.*.ratio")
    # a taller final drive makes a speedometer that reads exactly true read low
    assert "gearing.speedometer" in ratio.breaks
    both = edits | {"driveline.speedometer.calibrated_axle_ratio": 4.09}
    inspection = whole(both | {"driveline.speedometer.calibrated_reading": 0.97})
    for demand in ("never-low", "not-too-high"):
        assert only(inspection, "gearing.speedometer", demand).kind == "pass"  # 4.3/4.09·0.97 = 1.02


def test_a_remedy_of_one_part_changes_that_part_only() -> None:
    # the limiter's speed is one field, with no star
    edits = {
        "driveline.tyres.speed_symbol": "J",
        "driveline.speed_limiter": {"speed": "110 km/h"},
    }
    found = only(whole(edits), "gearing.top-speed", "tyres")
    assert found.level == "error"
    # a faster tyre does it, too
    assert {r.field for r in found.remedies} == {"driveline.speed_limiter.speed", "driveline.tyres.speed_symbol"}
    remedy = next(r for r in found.remedies if r.field == "driveline.speed_limiter.speed")
    assert remedy.after == pytest.approx(100 / 3.6, rel=1e-3)
    assert remedy.after <= 100 / 3.6 * (1 + 1e-9)


def test_no_remedy_for_what_is_only_unknown() -> None:
    found = only(whole({"engine.speed.rated": None}), "gearing.cruise-rpm", "rated-speed")
    assert (found.kind, found.unknown) == ("open", ("engine.speed.rated",))
    assert found.remedies == ()


SPEC = Path("specs/tarnholt-tender.toml")


def test_a_fix_applied_to_the_file_makes_the_rule_pass_and_keeps_the_rest(tmp_path: Path) -> None:
    text = SPEC.read_text(encoding="utf-8").replace("correction = 1.27 ", "correction = 1.00 ")
    assert "correction = 1.00 " in text
    (tmp_path / "sheets").mkdir()
    for sheet in SPEC.parent.glob("sheets/*.toml"):
        (tmp_path / "sheets" / sheet.name).write_bytes(sheet.read_bytes())
    spec = tmp_path / "tender.toml"
    spec.write_text(text, encoding="utf-8")
    base = load_rule_base()

    def findings() -> tuple[dict[tuple[str, str, str], str], dict[str, object]]:
        inspection, _ = inspect_whole(base, load_spec(str(spec), model=base.model))
        log, _ = sarif(Report(__version__, base.packs, [inspection], []))
        return {f.key: f.kind for f in inspection.findings}, json.loads(json.dumps(log))

    before, log = findings()
    result = next(
        r
        for r in log["runs"][0]["results"]  # type: ignore[index]
        if r["ruleId"] == "gearing.speedometer" and r["kind"] == "fail"
    )
    assert before["gearing.speedometer", "", "never-low"] == "fail"
    replacement = result["fixes"][0]["artifactChanges"][0]["replacements"][0]
    region, lines = replacement["deletedRegion"], text.split("\n")
    line = lines[region["startLine"] - 1]
    changed = (
        line[: region["startColumn"] - 1] + replacement["insertedContent"]["text"] + line[region["endColumn"] - 1 :]
    )
    lines[region["startLine"] - 1] = changed
    spec.write_text("\n".join(lines), encoding="utf-8")
    after, _ = findings()
    assert after["gearing.speedometer", "", "never-low"] == "pass"
    # comments and layout are kept, nothing else changes, and exactly what was announced breaks
    assert changed.split("#")[1] == line.split("#")[1]
    # calibrated to read 2 % high with axles of 6.17, it does so again with those of 4.88 at 6.17/4.88, as printed
    assert tomllib.loads("\n".join(lines))["driveline"]["speedometer"]["correction"] == pytest.approx(
        6.17 / 4.88, abs=0.005
    )
    newly = {key for key, kind in after.items() if kind == "fail" and before.get(key) != "fail"}
    assert newly == set()


def test_a_field_that_is_stated_as_zero_with_a_tolerance_can_be_mended() -> None:
    # front up at most 12° on a slope of 10°: at 0° ± 1° the engine would have to lean 0° or less everywhere
    base = load_rule_base()
    edits = {
        "vehicle.engine_place.pitch": {"value": "0 deg", "tol": "1 deg"},
        "build.design.grade_max": "0 %",
        "build.design.start_grade": "0 %",
        "build.design.tilt_long": "10 deg",
        "engine.tilt.front_up_max": "9 deg",
        "engine.tilt.front_down_max": "14 deg",
    }
    inspection, problems = inspect_whole(base, edited_spec(edits, base.model))
    assert problems == []
    found = only(inspection, "fit.installed-angle", "front-up")
    assert found.kind == "fail"
    (remedy,) = found.remedies
    assert remedy.field == "vehicle.engine_place.pitch"
    # front up: pitch + 1 + 10 ≤ 9 → pitch ≤ -2; front down: -pitch + 1 + 10 ≤ 14 → pitch ≥ -3
    assert -3.0 <= math.degrees(float(remedy.after)) <= -2.0


def test_where_most_of_a_build_fails_the_first_have_their_remedies_and_the_rest_say_so(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(search, "MOST_TRIALS", 1)
    edits = {"engine.speed.cruise_high": "2000 r/min", "driveline.speedometer.calibrated_reading": 1.2}
    fails = [f for f in whole(edits).findings if f.kind == "fail" and f.rule.adjust and f.found is not None]
    said = ["No remedy was looked for" in f.message for f in fails]
    assert fails[0].remedies
    assert said == sorted(said)  # first those that were looked at, then those that were not
    assert said[-1]
    assert not any(f.remedies for f, unsought in zip(fails, said, strict=True) if unsought)


def test_a_short_sheet_asks_for_the_first_remedy_of_errors_and_warnings_only() -> None:
    base = load_rule_base()
    spec = load_spec("specs/tarnholt-tender.toml", model=base.model)
    whole, _ = inspect_whole(base, spec)
    first, _ = inspect_whole(base, spec, remedies="first")
    none, _ = inspect_whole(base, spec, remedies="none")
    assert any(len(f.remedies) > 1 for f in whole.findings)
    assert any(f.remedies for f in whole.findings if f.kind == "review")
    for full, short, bare in zip(whole.findings, first.findings, none.findings, strict=True):
        assert full.key == short.key == bare.key
        assert short.remedies == (full.remedies[:1] if full.level in ("error", "warning") else ())
        assert bare.remedies == ()
