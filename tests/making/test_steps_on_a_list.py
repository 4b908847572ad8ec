"""The checklist of a build: which steps stand on it, in which order, with which numbers."""

from __future__ import annotations

import csv
import io
import json
from pathlib import Path

import pytest

from swaplint.declare.steps import MOMENTS, expect, step
from swaplint.host.packs import LoadedPack, RuleBase, load_rule_base
from swaplint.kit.steps import check_step_of
from swaplint.making.checklist import Checklist, checklist, in_working_order, runs_in_circles
from swaplint.making.steps import Entry
from swaplint.reports.checklist_json import checklist_json
from swaplint.reports.checklist_markdown import checklist_markdown
from swaplint.reports.checklist_table import checklist_table
from swaplint.reports.checklist_text import checklist_sheet
from swaplint.reports.json_report import dumps
from swaplint.reports.layout import plain
from swaplint.spec.loading import load_text

SPEC = """[build]
format = 1
name = "Bench rig (invented)"
stage = "commission"

[engine]
speed.idle = { value = "800 r/min", tol = "40 r/min" }

[driveline.gearbox]
kind = "manual"
ratios = [4.0, 2.0, 1.0]

[driveline.transfer]
fitted = false

[driveline.axles.rear]
driven = true
ratio = { value = 4.0, tol = "5 %", basis = "assumed" }

[driveline.axles.front]
driven = false
ratio = 4.5
"""

PACK = '''"""Steps of a bench that is invented."""
from swaplint.api import INTERFACE, Build, Expected, Pack, Practice, book, not_needed, expect, hookimpl, is_fitted
from swaplint.api import or_practice, practice, sheet, step, steps_in, cautions

BENCH = practice("what the bench always did")
LOSS = Practice("a lamp of 21 W", 21.0, BENCH, between=(18.0, 25.0))


@step(
    "gearing.bench-idle",
    moment="first-hour",
    instrument="tachometer, ±10 r/min",
    write="measured.running.idle_speed",
    cautions=[cautions.ROTATING, cautions.HOT],
    accuracy=0.1,
    sources=[BENCH.giving("limit", "at most 900 r/min")],
)
def idle(build: Build) -> Expected:
    """Read the idle speed.

    How: warm engine.
    Stop: it hunts by more than ±50 r/min.
    """
    return expect(lambda: build.engine.speed.idle, at_most=lambda: 94.2477796)


@step("gearing.bench-product", moment="first-drive", write="measured.road.engine_speed", cautions=[cautions.ROTATING])
def product(build: Build) -> Expected:
    """Read the engine speed in the bench's own way.

    How: idle times the rear axle's ratio, which means nothing.
    """
    return expect(lambda: build.engine.speed.idle * build.driveline.axles["rear"].ratio)


@step("gearing.bench-oil", moment="before-crank", each=lambda build: build.driveline.axles.values())
def oil(build: Build, axle) -> Expected:
    """Look at the oil of the axle.

    How: with the plug out.
    """
    return expect("oil at the plug's edge")


@step("gearing.bench-transfer", moment="before-crank", write="measured.before_start.gearbox_oil_filled")
def transfer(build: Build) -> Expected:
    """Look at the oil of the transfer case.

    How: with the plug out.
    """
    build.driveline.transfer.low
    return expect("oil at the plug's edge")


@step("gearing.bench-manual", moment="before-crank", write="measured.before_start.fan_free")
def manual(build: Build) -> Expected:
    """Look at the clutch.

    How: from below.
    """
    if build.driveline.gearbox.kind != "manual":
        return not_needed("There is no clutch.")
    return expect()


@step("gearing.bench-lamp", moment="before-power", after=["gearing.bench-last"], 
      write="measured.full_load.torque_share", sources=[sheet("engine.fuel.max_inlet_restriction")])
def lamp(build: Build) -> Expected:
    """Look at the lamp.

    How: from before.
    """
    return expect(lambda: or_practice(lambda: build.vehicle.aero.drag_coefficient, LOSS),
                  at_least=lambda: build.engine.fuel.max_inlet_restriction)


@step("gearing.bench-last", moment="before-power", write="measured.before_start.belts_tight")
def last(build: Build) -> Expected:
    """Turn the wheel.

    How: by hand.
    """
    if is_fitted(build.driveline.converter):
        return not_needed("A converter turns by itself.")
    return expect()


@step("gearing.bench-broken", moment="yearly")
def broken(build: Build) -> Expected:
    """Break.

    How: by a mistake.
    """
    return expect(lambda: 1.0 / 0.0)


@hookimpl
def swaplint_pack():
    return Pack("bench", interface=INTERFACE, steps=steps_in(__name__))
'''


@pytest.fixture(scope="module")
def base(tmp_path_factory: pytest.TempPathFactory) -> RuleBase:
    file = tmp_path_factory.mktemp("pack") / "bench.py"
    file.write_text(PACK, encoding="utf-8")
    return load_rule_base([str(file)], installed=False)


@pytest.fixture(scope="module")
def made(base: RuleBase) -> Checklist:
    return checklist(base, load_text(SPEC, label="bench.toml", model=base.model))


def of(made: Checklist, id: str) -> Entry:
    return next(entry for entry in made.entries if entry.step.id == id)


def test_only_what_the_build_has_stands_on_the_list_in_working_order(made: Checklist) -> None:
    assert [(entry.number, entry.step.id.removeprefix("gearing.bench-"), entry.part) for entry in made.entries] == [
        (1, "last", ""),
        (2, "lamp", ""),
        (3, "oil", "driveline.axles.rear"),
        (4, "oil", "driveline.axles.front"),
        (5, "manual", ""),
        (6, "idle", ""),
        (7, "product", ""),
    ]  # no transfer case is fitted


def test_a_step_about_a_part_that_nobody_mentions_stays_and_says_so(made: Checklist) -> None:
    assert of(made, "gearing.bench-last").unsure == ("driveline.converter",)
    assert "only if the build has it: driveline.converter is not stated" in text_of(made)


def test_the_stage_chooses_the_moments(base: RuleBase) -> None:
    spec = load_text(SPEC, label="bench.toml", model=base.model)
    at_build = checklist(base, spec, ["build"])
    assert {MOMENTS[entry.step.moment].stage for entry in at_build.entries} == {"build"}
    assert len(at_build.entries) == 2


def test_a_prediction_lies_within_its_tolerance_and_its_accuracy(made: Checklist) -> None:
    idle = of(made, "gearing.bench-idle")
    # 800 r/min = 83.776 rad/s; 760 less a tenth and 840 more a tenth: 684 and 924 r/min = 71.628 and 96.761 rad/s
    assert idle.expected is not None
    assert (idle.expected.value, idle.low, idle.high) == pytest.approx((83.7758, 71.6283, 96.7611), rel=1e-5)
    assert idle.limit is not None
    assert idle.limit.relation == "at most"


def test_two_tolerances_are_off_the_same_way_at_worst(made: Checklist) -> None:
    product = of(made, "gearing.bench-product")
    # 800 · 4 = 3200 r/min; 760 · 3.8 = 2888 and 840 · 4.2 = 3528 r/min = 302.43 and 369.45 rad/s
    assert (product.low, product.high) == pytest.approx((302.431, 369.451), rel=1e-4)
    assert product.expected is not None
    assert product.expected.rests_on == ("driveline.axles.rear.ratio, assumed",)


def test_a_fallback_that_is_found_in_a_range_spreads_the_prediction(made: Checklist) -> None:
    lamp = of(made, "gearing.bench-lamp")
    assert lamp.expected is not None
    assert (lamp.low, lamp.expected.value, lamp.high) == (18.0, 21.0, 25.0)
    assert lamp.expected.rests_on == ("a lamp of 21 W",)


def test_what_a_limit_lacks_is_named_and_the_prediction_stands(made: Checklist) -> None:
    lamp = of(made, "gearing.bench-lamp")
    assert lamp.least is not None
    assert lamp.least.unknown == ("engine.fuel.max_inlet_restriction",)
    assert lamp.limit is None
    assert "at least: not known yet: engine.fuel.max_inlet_restriction is" in text_of(made)


def test_a_step_without_a_reading_has_a_place_under_its_own_name(made: Checklist) -> None:
    assert [entry.field for entry in made.entries if entry.step.id == "gearing.bench-oil"] == [
        "measured.done.gearing-bench-oil-rear.date",
        "measured.done.gearing-bench-oil-front.date",
    ]


def test_a_step_that_raises_costs_only_itself(made: Checklist) -> None:
    assert [problem.rule for problem in made.problems] == ["gearing.bench-broken"]
    assert "division" in made.problems[0].what
    assert made.problems[0].line is not None


def test_the_derived_test_finds_what_is_wrong_with_a_step(base: RuleBase) -> None:
    steps = {step.id.removeprefix("gearing.bench-"): step for _, step in base.steps}
    assert check_step_of(base, steps["idle"]) == []
    assert "takes another kind" not in " ".join(check_step_of(base, steps["product"]))
    assert "division" in " ".join(check_step_of(base, steps["broken"]))
    lamp = " ".join(check_step_of(base, steps["lamp"]))
    assert "takes another kind" in lamp  # a pressure where the field takes a share


def text_of(made: Checklist, width: int = 140) -> str:
    return plain(checklist_sheet(made, width).lines)


@pytest.mark.parametrize("width", [60, 80, 140])
def test_the_text_fits_a_sheet_of_paper(made: Checklist, width: int) -> None:
    assert max(map(len, text_of(made, width).splitlines())) <= min(width, 80)


def test_a_caution_is_said_once_and_then_by_its_number(made: Checklist) -> None:
    text = text_of(made)
    assert text.count("Keep hair, sleeves") == 1
    assert text.index("Caution 1:") < text.index("Read the idle speed")
    assert "caution  1 and 2" in text
    assert "caution  1\n" in text


def test_the_lines_of_a_caution_begin_below_one_another(made: Checklist) -> None:
    lines = text_of(made, 60).splitlines()
    at = next(number for number, line in enumerate(lines) if line.lstrip().startswith("Caution 1:"))
    words = lines[at].removeprefix("Caution 1:").lstrip()
    assert len(lines[at + 1]) - len(lines[at + 1].lstrip()) == len(lines[at]) - len(words) == 12


def test_the_table_takes_an_answer_for_each_step(made: Checklist) -> None:
    *rows, last = csv.DictReader(io.StringIO(checklist_table(made)))
    assert last["field"] == ""
    assert last["what to do"].startswith(
        "missing here, for it broke or could not be read: pack bench: the step gearing"
    )
    assert [row["field"] for row in rows] == [entry.field for entry in made.entries]
    assert {row["answer"] for row in rows} == {""}
    assert rows[5]["expected"] == "800 r/min, between 684 r/min and 924 r/min (engine.speed.idle)"
    assert rows[5]["takes"] == "r/min"
    assert rows[2]["takes"] == "year-month-day"


def test_json_has_every_number_in_its_unit(made: Checklist) -> None:
    data = json.loads(dumps(checklist_json(made)))
    idle = data["steps"][5]
    assert idle["expected"]["value"] == 800
    assert idle["expected"]["low"] == pytest.approx(684)
    assert idle["limit"] == {"relation": "at most", "value": pytest.approx(900), "unit": "r/min"}
    assert data["stages"] == ["build", "commission"]
    assert data["problems"][0]["rule"] == "gearing.bench-broken"


def test_markdown_ticks_what_is_answered(base: RuleBase) -> None:
    spec = load_text(SPEC + '\n[measured.running]\nidle_speed = "790 r/min"\n', label="bench.toml", model=base.model)
    text = checklist_markdown(checklist(base, spec))
    assert "- [x] **6. Read the idle speed**" in text
    assert "Found: 790 r/min (line 25)" in text
    assert "- [ ] **7." in text


@pytest.mark.parametrize(
    ("found", "beyond"),
    [
        ('"860 r/min"', False),
        ('"930 r/min"', True),  # at most 900 r/min
        ('{ value = "910 r/min", tol = "20 r/min" }', False),
    ],
)
def test_what_was_found_beyond_a_limit_says_so(base: RuleBase, found: str, beyond: bool) -> None:
    spec = load_text(f"{SPEC}\n[measured.running]\nidle_speed = {found}\n", label="bench.toml", model=base.model)
    made = checklist(base, spec)
    assert of(made, "gearing.bench-idle").beyond == beyond
    assert ("(line 25): beyond the limit" in checklist_table(made)) == beyond


def test_hostile_names_steer_nothing(base: RuleBase) -> None:
    spec = SPEC.replace("Bench rig (invented)", "=cmd|' <b>*x*</b>")
    made = checklist(base, load_text(spec, label="bench.toml", model=base.model))
    assert "\x1b" not in text_of(made) + checklist_markdown(made) + checklist_table(made)
    assert "<b>" not in checklist_markdown(made).replace("\\<b", "")
    for row in csv.reader(io.StringIO(checklist_table(made))):
        assert not any(cell[:1] in "=+-@\t\r" and cell for cell in row)


# -- the declaration ----------------------------------------------------------------------------------------------
def declared(id: str, moment: str = "yearly", after: tuple[str, ...] = ()) -> tuple[LoadedPack, object]:
    @step(id, moment=moment, after=after)
    def it(build: object) -> object:  # type: ignore[misc]
        """Do it.

        How: so.
        """
        return expect()

    return LoadedPack("bench", "0", False), it


def test_steps_follow_the_systems_but_for_those_that_go_after_others() -> None:
    steps = [
        declared("power.last", after=("fuel.one", "mass.two")),
        declared("mass.two", after=("fuel.one",)),
        declared("fuel.one"),
        declared("supply.first", moment="before-lifting"),
    ]
    ordered = [step.id for _, step in in_working_order(steps)]  # type: ignore[arg-type]
    assert ordered == ["supply.first", "fuel.one", "mass.two", "power.last"]


def test_a_circle_is_found_and_hangs_nothing() -> None:
    steps = [declared("mass.one", after=("mass.two",)), declared("mass.two", after=("mass.one",))]
    assert len(in_working_order(steps)) == 2  # type: ignore[arg-type]
    assert set(runs_in_circles(step for _, step in steps)) == {"mass.one", "mass.two"}  # type: ignore[misc]


@pytest.mark.parametrize(
    ("change", "says"),
    [
        (('moment="yearly"', 'moment="someday"'), "is not a moment of the job"),
        (('"gearing.bench-broken"', '"nonsense.bench-broken"'), "is not a system"),
        (('"""Break.', '"""Break'), "with a full stop"),
        (("How: by a mistake.", "By a mistake."), "lacks the paragraph How:"),
        (('moment="yearly"', 'moment="yearly", write="measured.nonsense"'), "names the field measured.nonsense"),
        (('moment="yearly"', 'moment="yearly", accuracy=2.0'), "a share from 0 to 1"),
        (('"gearing.bench-broken"', '"gearing.bench-idle"'), "is taken already"),
    ],
)
def test_a_step_that_is_not_declared_soundly_is_left_out(tmp_path: Path, change: tuple[str, str], says: str) -> None:
    file = tmp_path / "bench.py"
    assert change[0] in PACK
    file.write_text(PACK.replace(*change), encoding="utf-8")
    base = load_rule_base([str(file)], installed=False)
    assert says in " ".join(problem.what for problem in base.problems)
    assert len(base.steps) == 7
