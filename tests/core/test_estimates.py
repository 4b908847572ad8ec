"""Quantities that stand in for a field which the spec does not state."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Any

import pytest
from tests_making import SOURCE, made

from swaplint.api import (
    Build,
    Practice,
    Quantity,
    Source,
    Verdict,
    at,
    at_most,
    book,
    given,
    holds,
    once,
    or_practice,
    quantity,
)
from swaplint.build.nodes import Unknown
from swaplint.build.reads import Reads
from swaplint.build.view import View
from swaplint.declare.quantities import check_quantity
from swaplint.gating.gate import gate_of
from swaplint.host.named_fields import let_estimates_stand_in
from swaplint.host.packs import LoadedPack, RuleBase, load_rule_base
from swaplint.inspecting.inspection import inspect
from swaplint.inspecting.results import Finding
from swaplint.inspecting.ways import measured_for, ways_to
from swaplint.inspecting.worksheet import worksheet
from swaplint.reports.json_report import spec_json
from swaplint.reports.questions import question_rows
from swaplint.solving.editing import EditedSpec
from swaplint.solving.whole import inspect_whole
from swaplint.spec.facts import Stated
from swaplint.spec.job import Stage
from swaplint.spec.loading import load_text

MEMORY = book("An invented book that nobody opened").giving("formula")
AREA = "vehicle.aero.frontal_area"
MOUNT = "vehicle.mounts.left"

SPEC = """
[vehicle]
wheelbase = "2000 mm"
track_front = "1500 mm"
[vehicle.mounts.left]
sink = "4 mm"
sink_load = "100 kg"
[vehicle.mounts.right]
axial_stiffness = "300 N/mm"
"""
# The area as a length by a width: 2.0 · 1.5 = 3.0 m², and the stiffness by sink: 100 kg · 9.8 N/kg / 4 mm = 245 N/mm.


def estimate(
    field: str, function: Callable[..., Any], tolerance: float = 0.2, id: str = "gearing.guess", **more: Any
) -> Quantity[Any]:
    function.__doc__ = "A guess."
    kinds = {"area": ("area", "m2"), "stiffness": ("stiffness", "N/mm")}
    kind, unit = next((known for end, known in kinds.items() if field.endswith(end)), ("", ""))
    declared = {"formula": "as it is", "sources": [SOURCE.giving("formula")], **more}
    return quantity(id, kind, unit, stands_in_for=field, tolerance=tolerance, **declared)(function)


def area_of(build: Build) -> float:
    return float(build.vehicle.wheelbase * build.vehicle.track_front)


def stiffness_of(build: Build, mount: Any) -> float:
    return float(mount.sink_load * 9.8 / mount.sink)


BOX = estimate(AREA, area_of)
SINK = estimate("vehicle.mounts.*.axial_stiffness", stiffness_of, id="mounts.guess")


def base_with(quantities: Sequence[Quantity[Any]], *rules: Any) -> RuleBase:
    base = RuleBase([LoadedPack("made-up", "1", False, list(rules), list(quantities))])
    let_estimates_stand_in(base)
    return base


def view_with(*quantities: Quantity[Any], spec: str = SPEC, probing: bool = False) -> View:
    return View(load_text(spec, model=base_with(quantities).model).build, probing=probing)


def reading(view: View, function: Callable[[Any], Any]) -> tuple[Any, Reads]:
    reads = Reads()
    view.stack.append(reads)
    try:
        return function(view.build), reads
    except Unknown as unknown:
        return unknown.path, reads
    finally:
        view.settle()


def findings(base: RuleBase, spec: str = SPEC, stage: Stage = "plan") -> list[Finding]:
    inspection, problems = inspect_whole(base, load_text(spec, label="s.toml", model=base.model), stage)
    assert not problems
    return inspection.findings


# -- the view asks what stands in --------------------------------------------------------------------------------------
def test_a_field_that_is_not_stated_is_estimated() -> None:
    value, reads = reading(view_with(BOX), lambda build: build.vehicle.aero.frontal_area)
    assert value == pytest.approx(3.0)
    assert (value.kind, value.unit, value.path) == ("area", "m2", AREA)
    (one,) = reads.estimates.values()
    assert (one.field, one.tol, one.by) == (AREA, pytest.approx(0.6), BOX)
    assert one.read == ("vehicle.wheelbase", "vehicle.track_front")
    assert {AREA, *one.read} <= reads.fields.keys()
    assert not reads.unknown
    assert list(reads.own) == [AREA]


def test_a_stated_value_comes_first() -> None:
    value, reads = reading(
        view_with(BOX, spec=SPEC.replace("[vehicle]\n", '[vehicle]\naero.frontal_area = "2 m2"\n')),
        lambda build: build.vehicle.aero.frontal_area,
    )
    assert value == 2.0
    assert not reads.estimates


def test_a_part_is_estimated_by_itself() -> None:
    view = view_with(SINK)
    value, reads = reading(view, lambda build: [mount.axial_stiffness for mount in build.vehicle.mounts.values()])
    assert value == pytest.approx([245e3, 300e3])
    assert list(reads.estimates) == [f"{MOUNT}.axial_stiffness"]


def test_without_what_is_measured_the_field_is_as_unknown_as_before() -> None:
    value, reads = reading(
        view_with(BOX, spec='[vehicle]\nwheelbase = "2 m"'), lambda build: build.vehicle.aero.frontal_area
    )
    assert value == AREA
    assert list(reads.unknown) == [AREA]
    assert not reads.optional
    assert not reads.estimates
    assert list(reads.fields) == [AREA]
    assert "vehicle.track_front" in reads.tried


def test_what_cannot_be_is_no_estimate() -> None:
    for given_back in (0.0, -1.0):
        view = view_with(estimate(AREA, lambda build, number=given_back: number))
        assert reading(view, lambda build: build.vehicle.aero.frontal_area)[0] == AREA

    def refuses(build: Build) -> float:
        raise ValueError("outside its range")

    assert reading(view_with(estimate(AREA, refuses)), lambda build: build.vehicle.aero.frontal_area)[0] == AREA


def test_the_closest_of_several_comes_first() -> None:
    rough = estimate(AREA, lambda build: 9.0, 0.5, "gearing.rough")
    assert reading(view_with(rough, BOX), lambda build: build.vehicle.aero.frontal_area)[0] == pytest.approx(3.0)
    short = view_with(rough, BOX, spec='[vehicle]\nwheelbase = "2 m"')
    value, reads = reading(short, lambda build: build.vehicle.aero.frontal_area)
    assert (value, reads.estimates[AREA].by.id) == (9.0, "gearing.rough")
    assert "vehicle.track_front" in reads.tried  # with it the closer one would hold


def test_an_estimate_comes_before_a_practice_and_is_something_given() -> None:
    fallback = Practice("an invented area", 7.0, SOURCE)
    value, reads = reading(view_with(BOX), lambda build: or_practice(lambda: build.vehicle.aero.frontal_area, fallback))
    assert value == pytest.approx(3.0)
    assert not reads.practices
    assert reading(view_with(BOX), lambda build: given(lambda: build.vehicle.aero.frontal_area))[0] == pytest.approx(
        3.0
    )


def test_a_probing_view_estimates_from_what_is_stated_alone() -> None:
    value, _ = reading(view_with(BOX, probing=True), lambda build: build.vehicle.aero.frontal_area)
    assert value == pytest.approx(3.0)
    value, reads = reading(view_with(BOX, spec="", probing=True), lambda build: build.vehicle.aero.frontal_area)
    assert value == 3.0  # the typical area, and none of typical lengths
    assert list(reads.unknown) == [AREA]


def test_other_values_give_another_estimate() -> None:
    view = view_with(BOX)
    assert reading(view, lambda build: build.vehicle.aero.frontal_area)[0] == pytest.approx(3.0)
    wider = view.changed({"vehicle.track_front": Stated(2.0)})
    assert reading(wider, lambda build: build.vehicle.aero.frontal_area)[0] == pytest.approx(4.0)
    gone = view.changed({"vehicle.track_front": None})
    assert reading(gone, lambda build: build.vehicle.aero.frontal_area)[0] == AREA
    told = view.changed({AREA: Stated(5.0)})
    assert reading(told, lambda build: build.vehicle.aero.frontal_area)[0] == 5.0
    value, _ = reading(view, lambda build: at(build, {"vehicle.wheelbase": 1.0}).vehicle.aero.frontal_area)
    assert value == pytest.approx(1.5)


# -- no loops ----------------------------------------------------------------------------------------------------------
def test_an_estimate_that_asks_for_its_own_field_has_no_value() -> None:
    itself = estimate(AREA, lambda build: build.vehicle.aero.frontal_area * 2.0)
    assert reading(view_with(itself), lambda build: build.vehicle.aero.frontal_area)[0] == AREA
    elsewhere = estimate(AREA, lambda build: at(build, {"vehicle.wheelbase": 1.0}).vehicle.aero.frontal_area)
    assert reading(view_with(elsewhere), lambda build: build.vehicle.aero.frontal_area)[0] == AREA


def test_a_circle_of_estimates_is_unknown_whoever_asks_first() -> None:
    def by_the_other(build: Build, drag: float | None = None) -> float:
        return float(build.vehicle.aero.drag_coefficient)

    def or_a_half(build: Build) -> float:
        area = given(lambda: build.vehicle.aero.frontal_area)
        return 0.5 if area is None else float(area)

    both = (estimate(AREA, by_the_other), estimate("vehicle.aero.drag_coefficient", or_a_half, id="gearing.drag"))
    read_area: Callable[[Any], Any] = lambda build: build.vehicle.aero.frontal_area  # noqa: E731
    read_drag: Callable[[Any], Any] = lambda build: build.vehicle.aero.drag_coefficient  # noqa: E731
    for first, second in ((read_area, read_drag), (read_drag, read_area)):
        view = view_with(*both)
        seen = {first: reading(view, first)[0], second: reading(view, second)[0]}
        # The area rests on the drag, which then does without the area; the drag by itself finds no area.
        assert (seen[read_area], seen[read_drag]) == (0.5, 0.5)


def test_what_was_asked_once_within_a_circle_is_not_kept() -> None:
    @once
    def area_or_nothing(build: Build) -> float | None:
        return given(lambda: build.vehicle.aero.frontal_area)

    def needs_it_unknown(build: Build) -> float:
        return 4.0 if area_or_nothing(build) is None else 8.0

    view = view_with(estimate(AREA, needs_it_unknown))
    assert reading(view, lambda build: build.vehicle.aero.frontal_area)[0] == 4.0
    assert reading(view, area_or_nothing)[0] == 4.0


# -- what a result says ------------------------------------------------------------------------------------------------
def small_enough(limit: float) -> Callable[[Build], Verdict]:
    return lambda build: at_most(build.vehicle.aero.frontal_area, limit, "Through the air.")


def rules_about(limit: float, sources: Sequence[Source] = (SOURCE,), **more: Any) -> Any:
    giving = [source.giving("limit", "an invented limit") for source in sources]
    return made("fit.area", small_enough(limit), sources=giving, about=AREA, **more)


def test_a_result_says_that_it_rests_on_an_estimate_and_from_what() -> None:
    (one,) = findings(base_with([BOX], rules_about(4.0)))
    assert one.kind == "pass"
    assert "Estimated: vehicle.aero.frontal_area 3 m2 ± 20 %" in one.message.replace("m²", "m2")
    assert "from vehicle.wheelbase, vehicle.track_front (gearing.guess)." in one.message
    assert [e.field for e in one.estimates] == [AREA]
    assert not one.unknown
    assert set(one.inputs) == {"vehicle.wheelbase", "vehicle.track_front"}


@pytest.mark.parametrize(
    ("limit", "kind"), [(3.7, "pass"), (3.61, "pass"), (3.59, "review"), (3.1, "review"), (2.9, "fail"), (2.3, "fail")]
)
def test_the_tolerance_of_an_estimate_is_carried(limit: float, kind: str) -> None:
    # 3.0 m² within 20 %: 2.4 to 3.6 m²
    (one,) = findings(base_with([BOX], rules_about(limit)))
    assert one.kind == kind
    assert one.deciding == ((AREA,) if 2.4 < limit < 3.6 else ())
    assert ("Within the stated tolerances it can pass" in one.message) is (limit == 2.9)


def test_what_is_measured_has_its_own_tolerance_on_top() -> None:
    # 2.0 m within 10 % and what it makes within 20 %: at worst 2.2 · 1.5 · 1.2 = 3.96 m²
    spec = SPEC.replace('"2000 mm"', '{ value = "2000 mm", tol = "10 %" }')
    assert findings(base_with([BOX], rules_about(3.97)), spec)[0].kind == "pass"
    (one,) = findings(base_with([BOX], rules_about(3.95)), spec)
    assert one.kind == "review"
    assert "At worst 3.96 m" in one.message


def test_an_estimate_on_another_is_off_by_both() -> None:
    # 3.0 m² within 20 %, and half of it within 10 %: at worst 3.6 · 0.5 · 1.1 = 1.98
    half = estimate(
        "vehicle.aero.drag_coefficient", lambda build: build.vehicle.aero.frontal_area / 2.0, 0.1, "gearing.half"
    )
    for limit, kind in ((1.99, "pass"), (1.97, "review")):
        drag = made(
            "fit.drag", lambda build, most=limit: at_most(build.vehicle.aero.drag_coefficient, most), about=AREA
        )
        (one,) = findings(base_with([BOX, half], drag))
        assert one.kind == kind
        assert [e.field for e in one.estimates] == [AREA, "vehicle.aero.drag_coefficient"]


def test_one_that_nobody_looked_up_never_decides_a_pass_of_an_error() -> None:
    guess = estimate(AREA, area_of, sources=[MEMORY])
    (one,) = findings(base_with([guess], rules_about(9.0)))
    assert one.kind == "review"
    assert "It rests on an estimate known from memory only (gearing.guess): find the real value." in one.message
    assert one.deciding == (AREA,)
    assert findings(base_with([guess], rules_about(9.0, level="warning")))[0].kind == "pass"
    assert findings(base_with([BOX], rules_about(9.0)))[0].kind == "pass"


def test_an_estimated_limit_is_known_as_the_estimate_is() -> None:
    sheet_limit = Source("data-sheet", "data sheet", "", "data-sheet", AREA, "limit")
    memory = MEMORY.giving("limit", "an invented limit")
    guess = estimate(AREA, area_of, sources=[MEMORY])
    for quantity_used, kind in ((BOX, "fail"), (guess, "review")):
        one_rule = made("fit.area", small_enough(1.0), sources=[sheet_limit, memory], about=AREA)
        (one,) = findings(base_with([quantity_used], one_rule))
        assert one.kind == kind
        assert one.from_memory is (kind == "review")
    # where another field is estimated, the sheet of this one gives no limit here
    drag = estimate("vehicle.aero.drag_coefficient", lambda build: 0.5, id="gearing.half")
    rests_on_both = made(
        "fit.drag",
        lambda build: at_most(build.vehicle.aero.drag_coefficient * build.vehicle.aero.frontal_area, 0.1),
        sources=[Source("data-sheet", "data sheet", "", "data-sheet", "engine.mass.wet", "limit"), memory],
        about=AREA,
    )
    assert findings(base_with([BOX, drag], rests_on_both))[0].from_memory


def test_from_the_build_stage_on_what_nobody_looked_up_is_as_good_as_missing() -> None:
    guess = estimate(AREA, area_of, sources=[MEMORY])
    for limit in (9.0, 1.0):  # a pass, and a fail of a limit that is remembered too
        limits = [MEMORY.giving("limit", "an invented limit")]
        for stage, due, kind, owed in (
            ("quote", "build", "review", False),
            ("build", "build", "open", True),
            ("build", "commission", "open", False),
            ("commission", "plan", "open", True),
        ):
            one_rule = made("fit.area", small_enough(limit), sources=limits, about=AREA, due=due)
            base = base_with([guess], one_rule)
            inspection, _ = inspect_whole(base, load_text(SPEC, label="s.toml", model=base.model), stage)  # type: ignore[arg-type]
            (one,) = inspection.findings
            assert (one.kind, one.due, gate_of(inspection, "error").open) == (kind, owed, not owed)
            assert one.unknown == ((AREA,) if kind == "open" else ())
            assert ("must be stated" in one.message) is (kind == "open")
            assert float(one.found or 0.0) == 3.0
    (one,) = findings(base_with([guess], rules_about(9.0, level="warning")), stage="build")
    assert one.kind == "pass"  # a warning may rest on it
    (one,) = findings(base_with([BOX], rules_about(9.0)), stage="build")
    assert one.kind == "pass"  # somebody looked it up


def test_json_names_the_field_and_what_it_is_estimated_from() -> None:
    base = base_with([BOX], rules_about(4.0))
    spec = load_text(SPEC, label="s.toml", model=base.model)
    inspection, _ = inspect_whole(base, spec, "plan")
    (result,) = spec_json(inspection, "error")["results"]
    assert result["estimates"] == [
        {
            "field": AREA,
            "value": 3.0,
            "unit": "m2",
            "basis": "calculated",
            "tol": 0.6,
            "quantity": "gearing.guess",
            "from": ["vehicle.wheelbase", "vehicle.track_front"],
        }
    ]


# -- questions and worksheet -------------------------------------------------------------------------------------------
def test_a_question_names_what_to_measure() -> None:
    base = base_with([BOX], rules_about(4.0))
    spec = load_text('[vehicle]\nwheelbase = "2 m"', label="s.toml", model=base.model)
    inspection, _ = inspect(base, spec, "plan")
    assert [f.kind for f in inspection.findings] == ["open"]
    assert [ask.field for ask in inspection.ask_next] == [AREA]
    (way,) = ways_to(spec, AREA)
    assert (way.estimate.id, way.measure) == ("gearing.guess", ("vehicle.track_front",))
    (ask,) = spec_json(inspection, "error")["ask_next"]
    assert ask["estimates"] == [
        {"quantity": "gearing.guess", "title": "A guess", "tolerance": 0.2, "measure": ["vehicle.track_front"]}
    ]
    assert measured_for(base.model, BOX) == ["vehicle.wheelbase", "vehicle.track_front"]
    assert ways_to(spec, "vehicle.aero.drag_coefficient") == []


def test_an_estimate_of_a_part_is_asked_for_that_part() -> None:
    base = base_with([SINK])
    spec = load_text("[vehicle.mounts.left]\nsink = '4 mm'", model=base.model)
    (way,) = ways_to(spec, f"{MOUNT}.axial_stiffness")
    assert way.measure == (f"{MOUNT}.sink_load",)
    assert measured_for(base.model, SINK) == ["vehicle.mounts.*.sink_load", "vehicle.mounts.*.sink"]


def test_the_worksheet_lists_an_estimate_where_it_stands_in() -> None:
    base = base_with([BOX, SINK])
    sheet = worksheet(base, load_text(SPEC, model=base.model))
    assert {(e.quantity.id, e.subject, e.stands_in_for) for e in sheet.entries} == {
        ("mounts.guess", MOUNT, f"{MOUNT}.axial_stiffness"),
        ("gearing.guess", "", AREA),
    }
    empty = worksheet(base, load_text("[vehicle.mounts.left]", model=base.model))
    assert [empty.entries, empty.unknown, empty.not_fitted, empty.problems] == [[], [], [], []]


# -- kept between edits ------------------------------------------------------------------------------------------------
def test_edits_of_what_is_measured_are_seen() -> None:
    soft = made(
        "fit.soft",
        lambda build: holds(all(m.axial_stiffness < 260e3 for m in build.vehicle.mounts.values())),
        about=MOUNT,
    )
    base = base_with([BOX, SINK], rules_about(3.2), soft)
    edited = EditedSpec(base)
    texts = [
        SPEC,
        SPEC.replace('"1500 mm"', '"1700 mm"'),
        SPEC.replace('track_front = "1500 mm"\n', ""),
        SPEC,
        SPEC.replace("[vehicle]\n", '[vehicle]\naero.frontal_area = "1 m2"\n'),
        SPEC.replace('sink = "4 mm"\n', ""),
        SPEC.replace('sink = "4 mm"', 'sink = "6 mm"'),
        SPEC.replace(
            "[vehicle.mounts.right]\n", '[vehicle.mounts.right]\nsink = "9 mm"\nsink_load = "200 kg"\n'
        ).replace('axial_stiffness = "300 N/mm"\n', ""),
        SPEC.replace("[vehicle.mounts.left]\n", "[vehicle.mounts.left]\nfitted = false\n"),
        SPEC,
    ]
    for text in texts:
        spec = load_text(text, label="s.toml", model=base.model)
        now, then = edited.inspect(spec)[0], inspect_whole(base, spec, remedies="none")[0]
        assert spec_json(now, "error") == spec_json(then, "error"), text


# -- declarations ------------------------------------------------------------------------------------------------------
@pytest.mark.parametrize(
    ("declared", "says"),
    [
        ({"tolerance": 0.0}, "a share of its value up to 0.7"),
        ({"tolerance": 0.9}, "a share of its value up to 0.7"),
        ({"tolerance": "20 %"}, "a share of the value, like 0.3, not '20 %'"),
        ({"each": lambda build: []}, "takes no `each`"),
    ],
)
def test_an_estimate_is_declared_soundly(declared: dict[str, Any], says: str) -> None:
    with pytest.raises(ValueError, match="gearing") as refused:
        check_quantity(estimate(AREA, area_of, **declared))
    assert says in str(refused.value)


def test_only_an_estimate_has_a_tolerance() -> None:
    plain = quantity(
        "gearing.plain", "area", "m2", formula="as it is", sources=[SOURCE.giving("formula")], tolerance=0.2
    )(area_of)
    with pytest.raises(ValueError, match="say with `stands_in_for` of which field"):
        check_quantity(plain)


PACK = '''
from swaplint.api import INTERFACE, Build, Pack, hookimpl, practice, quantity, quantities_in

@quantity("{id}", "{kind}", "{unit}", formula="h · b", sources=[practice("a box").giving("formula")],
          stands_in_for="{field}", tolerance=0.3)
def guess(build: Build) -> float:
    """Estimate it as a box."""
    return build.vehicle.wheelbase * build.vehicle.track_front

@hookimpl
def swaplint_pack() -> Pack:
    return Pack("acme", interface=INTERFACE, quantities=quantities_in(__name__))
'''


def test_a_strangers_pack_may_declare_one(tmp_path: Path) -> None:
    file = tmp_path / "acme_guess.py"
    file.write_text(PACK.format(id="gearing.acme-box", kind="area", unit="m2", field=AREA), encoding="utf-8")
    base = load_rule_base([str(file)], installed=False)
    assert not base.problems
    view = View(load_text(SPEC, model=base.model).build)
    assert reading(view, lambda build: build.vehicle.aero.frontal_area)[0] == pytest.approx(3.0)


@pytest.mark.parametrize(
    ("field", "says"),
    [
        ("vehicle.front_area", "which is no field of the build spec"),
        ("vehicle.mounts", "which is no field of the build spec"),
        ("engine.mass.wet", "which takes a mass"),
        ("vehicle.aero.drag_coefficient", "which takes a number without a unit"),
    ],
)
def test_one_for_no_such_field_is_reported(tmp_path: Path, field: str, says: str) -> None:
    file = tmp_path / "acme_guess.py"
    file.write_text(PACK.format(id="gearing.acme-box", kind="area", unit="m2", field=field), encoding="utf-8")
    base = load_rule_base([str(file)], installed=False)
    (problem,) = base.problems
    assert says in problem.what
    assert not base.quantities


def test_a_table_of_questions_names_what_to_measure() -> None:
    base = base_with([BOX], rules_about(4.0))
    spec = load_text('[vehicle]\nwheelbase = "2 m"', label="s.toml", model=base.model)
    inspection, _ = inspect(base, spec, "plan")
    ((field, _, where, *_),) = question_rows(inspection, inspection.ask_next)
    assert field == AREA
    assert where.endswith("Or a guess, within 20 %: measure vehicle.track_front (gearing.guess).")
