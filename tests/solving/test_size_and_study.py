"""`size` and `study`."""

import csv
import io
import json
import math
import multiprocessing
import os
import random
import threading
from dataclasses import replace
from pathlib import Path

import pytest
import tomli_w

from swaplint.build.reads import MANY, Reads
from swaplint.cli import main
from swaplint.inspecting import side_by_side
from swaplint.inspecting.outcomes import Outcome
from swaplint.kit.edits import edited_data
from swaplint.solving import trial
from swaplint.solving.sizing import NotSizable, size
from swaplint.solving.study import BadStudy, Row, make_study, run
from swaplint.solving.what_if import WhatIf, facts_for, read_value
from swaplint.spec.facts import FieldFacts

from .worlds import asked

RADIUS = 3.05 * 0.806 / (2 * math.pi)
RPM = 60 / (2 * math.pi)
RATIO = "driveline.axles.*.ratio"


def test_window_ends_are_the_limits_recomputed_by_hand() -> None:
    what_if, inspection = asked({"driveline.speedometer.source": "wheel"})
    sizing = size(what_if, inspection, RATIO)
    assert len(sizing.windows) == 1
    window = sizing.windows[0]
    # upper end: 80 km/h in top at the end of the cruise band, 2700 r/min: i = 2700/RPM·r/(0.9·v)
    assert window.bound_high == "gearing.cruise-rpm"
    assert window.high == pytest.approx(2700 / RPM * RADIUS / (0.9 * 80 / 3.6), rel=1e-6)
    # lower end: the vehicle reaches the tyres' 160 km/h. On the governor line T = 265·(3700 − n)/300 with n = a·i, so
    # T·0.9·i·0.90/r = R is a quadratic in the final drive ratio i; the larger speed belongs to its larger root.
    speed = 160 / 3.6
    resistance = 2800 * 9.80665 * 0.012 + 0.5 * 1.225 * 0.45 * 2.8 * speed**2
    a, b = speed * 0.9 / RADIUS * RPM, 265 / 300 * 0.9 * 0.90 / RADIUS
    ratio = (3700 + math.sqrt(3700**2 - 4 * a * resistance / b)) / (2 * a)
    assert window.bound_low == "gearing.top-speed"
    assert window.low == pytest.approx(ratio, rel=1e-4)
    assert sizing.best is not None
    assert sizing.best.value == 4.3  # the present value passes


def test_choices_of_the_builder() -> None:
    what_if, inspection = asked({"driveline.speedometer.source": "wheel"})
    facts = size(what_if, inspection, RATIO).facts
    among = [read_value(text, facts) for text in ("2.5", "3.5", "4.3", "6.5")]
    sizing = size(what_if, inspection, RATIO, among)
    assert [choice.passes for choice in sizing.choices] == [False, True, True, False]
    assert sizing.best is not None
    assert sizing.best.value == 3.5
    assert "gearing.cruise-rpm" in sizing.choices[3].fails


def test_a_rule_that_another_field_must_mend_is_set_aside() -> None:
    what_if, inspection = asked({"driveline.speedometer.calibrated_reading": 0.8})
    sizing = size(what_if, inspection, RATIO)
    assert sizing.set_aside == ["gearing.speedometer"]
    assert sizing.windows
    # strictly, no rule that reads the field may fail: the speedometer reads right from i = 4.3/0.8 = 5.375 on
    assert sizing.strict_windows
    assert all(window.low >= 4.3 / 0.8 - 1e-6 for window in sizing.strict_windows)


def test_size_refuses_what_has_no_values() -> None:
    what_if, inspection = asked()
    for path in ("driveline.gearbox", "build.name", "engine.nothing"):
        with pytest.raises(NotSizable):
            size(what_if, inspection, path)


def test_size_json(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["size", "specs/tarnholt-tender.toml", RATIO, "--format", "json"]) == 0
    data = json.loads(capsys.readouterr().out)
    assert {"spec", "field", "unit", "now", "windows", "choices", "best", "breaks"} <= set(data)
    assert data["now"] == 4.88
    window = data["windows"][0]
    assert window["low"] < 4.88 < window["high"]
    # The speedometer binds below: 1.02·1.27·i/6.17 = 1 at i = 4.763.
    assert window["bound_low"] == "gearing.speedometer"
    assert window["low"] == pytest.approx(6.17 / (1.02 * 1.27), rel=1e-6)


def test_size_of_a_misspelt_field(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["size", "specs/tarnholt-tender.toml", "driveline.axle.rear.ratio"]) == 2
    assert "driveline.axles" in capsys.readouterr().err


def study_of(vary: dict[str, list[str]], show: list[str]) -> list[tuple[float, ...]]:
    what_if, inspection = asked({"driveline.speedometer.source": "wheel"})
    varied = []
    for pattern, texts in vary.items():
        facts = facts_for(what_if.base, pattern)
        assert facts is not None
        varied.append((pattern, [read_value(text, facts) for text in texts]))
    study = make_study(what_if, inspection, varied, show)
    done: list[int] = []
    rows = run(study, cores=1, progress=done.append)
    assert done[-1] == study.count == len(rows)
    keys = [row.sort_key for row in rows]
    assert keys == sorted(keys)
    return [(*(float(v.value) for v in row.values), *(s or math.nan for s in row.shown)) for row in rows]  # type: ignore[arg-type]


def test_study_shows_the_right_number_for_each_combination() -> None:
    rows = study_of(
        {RATIO: ["3.5", "4.3", "5.0"], "driveline.tyres.overall_diameter": ["760 mm", "806 mm"]},
        ["gearing.cruise-rpm"],
    )
    assert len(rows) == 6
    for ratio, diameter, speed in rows:
        assert speed == pytest.approx(80 / 3.6 * ratio * 0.9 / (3.05 * diameter / (2 * math.pi)), rel=1e-9)


@pytest.mark.parametrize("way", ["fork", "spawn"])
def test_study_on_all_cores_is_the_same(
    way: str, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    """By copies of this process, and where it has threads by processes that read the spec and its rules themselves."""
    if way not in multiprocessing.get_all_start_methods():
        pytest.skip("processes do not begin so here")
    call = ["study", "specs/skerrivar-van.toml", "--vary", f"{RATIO}=3..5:8", "--vary"]
    call += ["driveline.tyres.overall_diameter=620..760 mm:8", "--format", "csv", "--show", "gearing.cruise-rpm"]
    call += ["--system", "gearing"]
    assert main([*call, "--cores", "1"]) == 0
    one = capsys.readouterr().out
    monkeypatch.setattr("swaplint.solving.study.FEW", 10)
    monkeypatch.setattr("swaplint.solving.study.CHUNK", 16)
    began: list[int] = []
    begin = side_by_side._Crew._begin
    monkeypatch.setattr(
        side_by_side._Crew, "_begin", lambda crew: (begin(crew), began.append(crew.idle[-1].process.pid))
    )
    done = threading.Event()
    if way == "spawn":
        threading.Thread(target=done.wait, args=(60,), daemon=True).start()
    else:
        monkeypatch.setattr(side_by_side.threading, "active_count", lambda: 1)
    assert side_by_side._context().get_start_method() == way
    try:
        assert main([*call, "--cores", "2"]) == 0
    finally:
        done.set()
    assert len(set(began) - {os.getpid()}) == 2
    assert capsys.readouterr().out == one
    table = list(csv.DictReader(io.StringIO(one)))
    assert len(table) == 64


def test_study_json(capsys: pytest.CaptureFixture[str]) -> None:
    call = ["study", "specs/skerrivar-van.toml", "--vary", f"{RATIO}=3.5,3.9", "--format", "json"]
    assert main([*call, "--show", "gearing.cruise-rpm", "--show", "gearing.startability"]) == 0
    data = json.loads(capsys.readouterr().out)
    assert set(data) >= {"spec", "vary", "rows"}
    assert data["vary"] == {RATIO: [3.5, 3.9]}
    assert set(data["rows"][0]) >= {"values", "fails", "reviews", "worst_margin", "shown"}
    # more ratio starts better: the margin of startability rises
    margins = {row["values"][RATIO]: row["shown"]["gearing.startability"] for row in data["rows"]}
    assert margins[3.9] > margins[3.5]


@pytest.mark.parametrize(
    "vary",
    ["nonsense", "engine.nothing=1,2", f"{RATIO}=", f"{RATIO}=3..5:1", f"{RATIO}=3..5:999999999", f"{RATIO}=a,b"],
)
def test_bad_studies_are_sentences(vary: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["study", "specs/skerrivar-van.toml", "--vary", vary]) == 2
    assert capsys.readouterr().err.startswith("swaplint study: ")


def test_a_field_varied_twice_is_refused() -> None:
    what_if, inspection = asked()
    with pytest.raises(BadStudy, match="varied twice"):
        make_study(what_if, inspection, [(RATIO, []), ("driveline.axles.rear.ratio", [])], [])


# -- the order of the values ----------------------------------------------------------------------------------------
LOOSE = {
    "driveline.speedometer.source": "wheel",
    "driveline.tyres.overall_diameter": {"value": "806 mm", "tol": "3 %"},
    "engine.speed.cruise_high": "2120 r/min",
}
"""Some rules are left to a person at some ratios, so that what was looked at before could matter."""


def orders(texts: list[str]) -> list[list[str]]:
    shuffled = random.Random(5).sample(texts, len(texts))
    return [texts, list(reversed(texts)), shuffled]


def test_what_size_says_of_a_value_does_not_depend_on_those_before_it() -> None:
    texts = ["2.5", "3.5", "3.9", "4.1", "4.3", "4.7", "5.5", "6.5"]
    what_if, inspection = asked(LOOSE)
    facts = size(what_if, inspection, RATIO).facts
    alone = {text: size(*asked(LOOSE), RATIO, [read_value(text, facts)]).choices[0] for text in texts}
    assert len({choice.reviews for choice in alone.values()}) > 1
    assert len({choice.fails for choice in alone.values()}) > 1
    for order in orders(texts):
        sizing = size(what_if, inspection, RATIO, [read_value(text, facts) for text in order])
        assert [choice.value.written for choice in sizing.choices] == order
        assert {choice.value.written: choice for choice in sizing.choices} == alone
        assert set(sizing.set_aside) == set(size(*asked(LOOSE), RATIO, [alone[t].value for t in texts]).set_aside)


def test_rows_of_a_study_do_not_depend_on_the_order_of_the_values() -> None:
    ratios, diameters = ["3.5", "3.9", "4.3", "5.0", "6.0"], ["760 mm", "790 mm", "806 mm", "830 mm"]
    diameter = "driveline.tyres.overall_diameter"
    said: list[dict[tuple[str, ...], Row]] = []
    for one, other, first in zip(orders(ratios), orders(diameters), (RATIO, diameter, RATIO), strict=True):
        what_if, inspection = asked(LOOSE)
        vary = {RATIO: one, diameter: other}
        varied = [
            (field, [read_value(text, facts_of(what_if, field)) for text in vary[field]])
            for field in (first, diameter if first == RATIO else RATIO)
        ]
        study = make_study(what_if, inspection, varied, ["gearing.cruise-rpm", "gearing.startability"])
        rows = run(study, cores=1, progress=lambda done: None)
        assert len(rows) == 20
        assert [row.sort_key for row in rows] == sorted(row.sort_key for row in rows)
        said.append({tuple(sorted(v.written for v in row.values)): replace(row, values=()) for row in rows})
    assert said[0] == said[1] == said[2]
    assert len({row.fails for row in said[0].values()}) > 1


def facts_of(what_if: WhatIf, field: str) -> FieldFacts:
    facts = facts_for(what_if.base, field)
    assert facts is not None
    return facts


def test_a_study_on_which_too_much_hangs_is_refused_or_looked_at_less(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    call = ["study", "specs/skerrivar-van.toml", "--vary", f"{RATIO}=3..5:4", "--rule", "gearing.crawl"]
    assert main([*call, "--format", "json"]) == 0
    assert json.loads(capsys.readouterr().out)["within_tolerances"] is True
    monkeypatch.setattr("swaplint.solving.study.MOST_JUDGED_WITHIN_TOLERANCES", 3)
    assert main(call) == 0
    assert "Too many combinations to look at each within the tolerances" in capsys.readouterr().out
    monkeypatch.setattr("swaplint.solving.study.MOST_JUDGED", 3)
    assert main(call) == 2
    assert "4 combinations are too many: " in capsys.readouterr().err


def test_a_result_that_rests_on_hundreds_of_fields_counts_several_times() -> None:
    few, many = Reads(), Reads()
    few.few = {"engine.speed.idle": None}
    many.few = {f"electrics.cables.c{number}.length": None for number in range(MANY + 1)}
    both = Reads()
    both.note_fields(many)
    outcomes = [Outcome("", "", None, reads) for reads in (few, both)]
    assert [trial._counted([one]) for one in outcomes] == [1, trial.RESTING_ON_MANY]
    assert trial._counted(outcomes) == 1 + trial.RESTING_ON_MANY


def test_a_rule_that_fails_at_the_few_values_looked_at_is_not_said_to_need_another_field(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    """6.5 fails the cruise; up to 5.53 it passes, as reckoned above, but nobody has looked there."""
    monkeypatch.setattr(trial, "MOST_JUDGED", 60)
    what_if, inspection = asked({"driveline.speedometer.source": "wheel", RATIO: 6.5})
    sizing = size(what_if, inspection, RATIO)
    assert sizing.cut_short
    assert sizing.looked_at < 5
    assert "gearing.cruise-rpm" not in sizing.set_aside
    assert (sizing.windows, sizing.best) == ([], None)
    spec = tmp_path / "s.toml"
    spec.write_text(tomli_w.dumps(edited_data({RATIO: 6.5})), encoding="utf-8")
    monkeypatch.setattr(trial, "MOST_JUDGED", 300)
    main(["size", str(spec), RATIO])
    said = " ".join(capsys.readouterr().out.split())
    assert "At none of the values looked at." in said
    assert "gearing.cruise-rpm passes at none of them" in said
    assert "Too much hangs on this field to look everywhere" in said
    assert "passes nowhere" not in said
