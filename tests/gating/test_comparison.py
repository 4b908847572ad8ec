"""An inspection beside an earlier one: every state by hand, names that changed, and because of what a result did."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from swaplint.api import Build, Rule, Verdict, all_of, at_most, book, does_not_apply, each_of, holds, needs_review
from swaplint.gating.comparison import compare_with_spec
from swaplint.gating.earlier import earlier_of
from swaplint.gating.gate import gate_of
from swaplint.inspecting.results import Suppression
from swaplint.reports.baseline_text import add_compared
from swaplint.reports.layout import Sheet, plain
from tests.core.tests_making import made
from tests.gating.comparing import against_report, against_spec, base_of, inspected, report_json, states
from tests.reports.report_schema import check_report


def strokes(build: Build) -> Verdict:
    return at_most(build.engine.strokes, 4.0)


STROKES = made("fit.strokes", strokes, about="engine.strokes")
GVWR = made("mass.gvwr", lambda b: at_most(b.vehicle.mass.gvwr, 3000.0), about="vehicle.mass.gvwr")


def gvwr(kg: float) -> str:
    return f'[vehicle.mass]\ngvwr = "{kg} kg"\n'


@pytest.mark.parametrize(
    ("then", "now", "state"),
    [
        (2900, 2900, "unchanged"),
        (2900, 2950, "unchanged"),  # passes with less to spare: the number moved
        (2900, 3100, "new"),
        (3100, 2900, "solved"),
        (3100, 3200, "worse"),
        (3200, 3100, "better"),
        (3100, 3100.5, "unchanged"),  # prints as it did: 3100 against 3101, a sixth of a thousandth
        (None, 3100, "new"),
        (None, 2900, "better"),
        (2900, None, "worse"),
        (3100, None, "worse"),  # not known any more is not solved
    ],
)
def test_each_state_of_a_number_against_its_limit(
    then: float | None, now: float | None, state: str, tmp_path: Path
) -> None:
    base = base_of([GVWR])
    old, new = (gvwr(kg) if kg is not None else "" for kg in (then, now))
    by_report, baseline = against_report(tmp_path, (base, old), (base, new), ("plan", "plan"))
    by_spec, _ = against_spec(old, (base, new))
    assert states(by_report) == states(by_spec) == {"mass.gvwr": state}
    counts = baseline.counts()
    assert counts == {**dict.fromkeys(counts, 0), state: 1}


def _fixed(verdict: Verdict | None) -> Rule:
    return made(
        "fit.a", (lambda b: at_most(b.engine.strokes, 3.0)) if verdict is None else lambda b: verdict, due="plan"
    )


DUE = None
"""A field is not stated, and the answer is owed."""
ERROR, WARNING = holds(False), holds(False, level="warning")
REVIEW, PASS, NONE = needs_review("look"), holds(True), does_not_apply("none")


@pytest.mark.parametrize(
    ("then", "now", "state"),
    [
        (WARNING, ERROR, "worse"),
        (ERROR, WARNING, "better"),
        (ERROR, ERROR, "unchanged"),
        (REVIEW, ERROR, "worse"),
        (ERROR, REVIEW, "better"),
        (REVIEW, PASS, "solved"),
        (PASS, REVIEW, "new"),
        (PASS, DUE, "new"),
        (DUE, PASS, "solved"),
        (DUE, ERROR, "worse"),
        (ERROR, DUE, "worse"),
        (DUE, DUE, "unchanged"),
        (DUE, REVIEW, "better"),
        (ERROR, NONE, "solved"),
        (NONE, PASS, "unchanged"),
    ],
)
def test_each_state_between_kinds(then: Verdict | None, now: Verdict | None, state: str, tmp_path: Path) -> None:
    today, _ = against_report(tmp_path, (base_of([_fixed(then)]), ""), (base_of([_fixed(now)]), ""))
    assert states(today) == {"fit.a": state}


def test_a_fail_that_a_person_must_decide_on_now_is_better_only_where_its_number_is(tmp_path: Path) -> None:
    memory = [book("Invented handbook").giving("limit", "an invented limit")]  # which makes no error
    unsure = base_of([made("mass.gvwr", lambda b: at_most(b.vehicle.mass.gvwr, 3000.0), sources=memory)])

    def became(kg: float) -> str:
        today, _ = against_report(tmp_path, (base_of([GVWR]), gvwr(3100)), (unsure, gvwr(kg)))
        assert [finding.kind for finding in today.findings] == ["review"]
        return states(today)["mass.gvwr"]

    assert (became(3050), became(3100), became(3200)) == ("better", "better", "worse")


def _axle(build: Build, axle: Any) -> Verdict:
    return at_most(axle.ratio, 4.0)


AXLES = made("gearing.axles", _axle, each=lambda b: each_of(b.driveline.axles))


def axles(**ratios: float) -> str:
    return "".join(f"[driveline.axles.{name}]\nratio = {ratio}\n" for name, ratio in ratios.items())


def test_parts_that_came_and_went(tmp_path: Path) -> None:
    base = base_of([AXLES])
    old, new = axles(front=5.0, rear=3.5), axles(middle=4.5, tag=3.0, rear=3.5)
    today, baseline = against_report(tmp_path, (base, old), (base, new))
    parts = "driveline.axles."
    assert states(today) == {f"{parts}middle": "new", f"{parts}tag": "added", f"{parts}rear": "unchanged"}
    assert [was.part for was in baseline.solved] == [f"{parts}front"]
    assert (baseline.gone, baseline.renamed) == (0, [])
    _, other = against_report(tmp_path, (base, new), (base, old))
    assert [was.part for was in other.solved] == [f"{parts}middle"]
    assert other.gone == 1


SHAFT = '[driveline.axles.{}]\nratio = 5.0\nrating = "{} kg"\n'


def _rated(build: Build, axle: Any) -> Verdict:
    return all_of(ratio=at_most(axle.ratio, 4.0), rating=at_most(axle.rating, 2000.0))


RATED = made("gearing.axles", _rated, each=lambda b: each_of(b.driveline.axles))


def test_a_renamed_part_is_known_by_its_values_where_these_leave_no_choice(tmp_path: Path) -> None:
    base = base_of([RATED])
    old, new = SHAFT.format("rear", 1500), SHAFT.format("hind", 1500)
    for today, baseline in (against_report(tmp_path, (base, old), (base, new)), against_spec(old, (base, new))):
        assert baseline.renamed == [("driveline.axles.rear", "driveline.axles.hind")]
        assert set(states(today).values()) == {"unchanged"}
        assert not baseline.solved
        assert not baseline.fields
    twins = SHAFT.format("one", 1500) + SHAFT.format("two", 1500)
    today, baseline = against_report(tmp_path, (base, old), (base, twins))
    assert baseline.renamed == []  # which of the two it is nobody can tell
    assert [was.part for was in baseline.solved] == ["driveline.axles.rear"]
    today, baseline = against_report(tmp_path, (base, old), (base, SHAFT.format("hind", 1600)))
    assert baseline.renamed == []
    assert sorted(states(today).values()) == ["added", "new"]


def test_an_item_is_known_by_what_stands_in_it_when_another_goes(tmp_path: Path) -> None:
    rule = made("supply.lines", lambda b, line: at_most(line.mass, 2.0), each=lambda b: each_of(b.supply))
    base = base_of([rule])
    line = '[[supply]]\nitem = "{}"\nmass = "{} kg"\n'
    old, new = line.format("bolt", 1) + line.format("nut", 5), line.format("nut", 5)
    today, baseline = against_spec(old, (base, new))
    assert baseline.renamed == [("supply[2]", "supply[1]")]
    assert set(states(today).values()) == {"unchanged"}
    assert baseline.gone == 1


def test_ids_that_a_rule_had_before_are_followed(tmp_path: Path) -> None:
    then = base_of([made("mass.plate", lambda b: at_most(b.vehicle.mass.gvwr, 3000.0))])
    now = base_of([made("mass.gvwr", lambda b: at_most(b.vehicle.mass.gvwr, 3000.0), aliases=["mass.plate"])])
    today, baseline = against_report(tmp_path, (then, gvwr(3100)), (now, gvwr(3100)))
    assert states(today) == {"mass.gvwr": "unchanged"}
    assert not baseline.not_judged


def test_fields_that_have_another_name_are_followed(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    base = base_of([AXLES])
    data = report_json(base, inspected(base, axles(rear=5.0)))
    for result in data["specs"][0]["results"]:
        result["part"] = result["part"].replace("driveline.axles", "chassis.axles")
        result["inputs"] = [
            {**one, "field": one["field"].replace("driveline.axles", "chassis.axles")} for one in result["inputs"]
        ]
    from swaplint.gating.comparison import compare_with_report
    from swaplint.gating.earlier_report import read_report
    from swaplint.spec import renamed
    from tests.gating.comparing import kept

    monkeypatch.setitem(renamed.MOVED, "chassis.axles", "driveline.axles")
    today = inspected(base, axles(rear=5.0))
    today.baseline = compare_with_report(base, today, read_report(str(kept(tmp_path, data))))
    assert states(today) == {"driveline.axles.rear": "unchanged"}
    assert not today.baseline.fields


def test_old_names_of_rule_part_and_field_at_once_leave_the_gate_open(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A report of before all three got other names: what it knew is known again, and what is new shuts."""
    from swaplint.gating.comparison import compare_with_report
    from swaplint.gating.earlier_report import read_report
    from swaplint.spec import renamed
    from tests.gating.comparing import kept

    def each(build: Build, axle: Any) -> Verdict:
        return all_of(low=lambda: at_most(axle.ratio, 4.0), teeth=lambda: at_most(axle.ring_teeth, 50.0))

    rule = made("gearing.each", each, each=lambda b: b.driveline.axles.values(), aliases=["gearing.every"])
    base = base_of([rule])
    text = json.dumps(report_json(base, inspected(base, axles(rear=5.0), "build")))
    for new, old in (
        ("gearing.each", "gearing.every"),
        ("driveline.axles", "chassis.bridges"),
        (".ratio", ".relation"),
    ):
        assert new in text
        text = text.replace(new, old)
    monkeypatch.setitem(renamed.MOVED, "chassis.bridges", "driveline.axles")
    monkeypatch.setitem(renamed.MOVED, "driveline.axles.*.relation", "driveline.axles.*.ratio")
    file = kept(tmp_path, json.loads(text))
    for spec, open in ((axles(rear=5.0), True), (axles(rear=5.1), False), (axles(rear=5.0, front=5.0), False)):
        today = inspected(base, spec, "build")
        today.baseline = compare_with_report(base, today, read_report(str(file)))
        assert gate_of(today, "error").open is open
        assert not today.baseline.solved
        if open:
            assert set(states(today).values()) == {"unchanged"}
            assert not today.baseline.fields
            assert today.baseline.gone == 0


def test_a_rule_that_is_no_more_or_broke_solves_nothing(tmp_path: Path) -> None:
    def breaks(build: Build) -> Verdict:
        raise ZeroDivisionError

    gone, broken = made("fit.a", lambda b: ERROR), made("mass.gvwr", breaks)
    _, baseline = against_report(tmp_path, (base_of([gone, GVWR]), gvwr(3100)), (base_of([broken]), gvwr(2900)))
    assert [was.rule for was in baseline.not_judged] == ["fit.a", "mass.gvwr"]
    assert not baseline.solved


def test_an_open_rule_that_comes_to_its_demands_and_back(tmp_path: Path) -> None:
    def two(build: Build) -> Verdict:
        mass = float(build.vehicle.mass.gvwr)
        return all_of(light=at_most(mass, 3000.0), lighter=at_most(mass, 2000.0))

    base = base_of([made("mass.two", two, due="build")])
    today, _ = against_report(tmp_path, (base, ""), (base, gvwr(2500)))
    assert states(today) == {"mass.two light": "better", "mass.two lighter": "new"}
    today, baseline = against_report(tmp_path, (base, gvwr(2500)), (base, ""))
    assert states(today) == {"mass.two": "worse"}
    assert not baseline.solved


def test_a_rule_that_a_person_must_decide_on_whole_and_judged_by_demands_before(tmp_path: Path) -> None:
    def two(build: Build) -> Verdict:
        mass = float(build.vehicle.mass.gvwr)
        if mass > 4000:
            return needs_review("Nobody knows the formula for so much.")
        return all_of(light=at_most(mass, 3000.0), heavy=at_most(mass, 5000.0))

    base = base_of([made("mass.two", two)])
    today, baseline = against_report(tmp_path, (base, gvwr(3500)), (base, gvwr(4500)))
    assert states(today) == {"mass.two": "worse"}  # it failed by a number, and now nobody knows
    assert not baseline.solved
    today, baseline = against_report(tmp_path, (base, gvwr(4500)), (base, gvwr(3500)))
    assert states(today) == {"mass.two light": "worse", "mass.two heavy": "better"}
    assert not baseline.solved
    today, baseline = against_report(tmp_path, (base, gvwr(4500)), (base, gvwr(2500)))
    assert states(today) == {"mass.two light": "solved", "mass.two heavy": "solved"}
    assert baseline.counts()["solved"] == 1  # it was one thing to decide


# -- because of what -------------------------------------------------------------------------------------------------
def test_the_rule_changed_is_told_from_the_build_changed(tmp_path: Path) -> None:
    why = {"1.1": "Allows 2.8 t.", "0.9": "Looked at the mass."}
    stricter = made("mass.gvwr", lambda b: at_most(b.vehicle.mass.gvwr, 2800.0), changed=why)
    old, now = base_of([GVWR]), base_of([stricter], "1.2")

    def became(then: str, today: str, base: Any = now) -> tuple[str, Any, Any]:
        inspection, baseline = against_report(tmp_path, (old, then), (base, today))
        one = baseline.compared[inspection.findings[0].key]
        return one.state, one.because, one.notes

    assert became(gvwr(2900), gvwr(2900)) == ("new", "rule", (("1.1", "Allows 2.8 t."),))
    assert became(gvwr(2900), gvwr(3000)) == ("new", "both", (("1.1", "Allows 2.8 t."),))
    assert became(gvwr(2900), gvwr(3100), old) == ("new", "build", ())
    silent = base_of([made("mass.gvwr", lambda b: at_most(b.vehicle.mass.gvwr, 2800.0))], "1.2")
    assert became(gvwr(2900), gvwr(2900), silent) == ("new", "rule", ())
    assert became(gvwr(2900), gvwr(3000), silent) == ("new", "build", ())


def test_the_short_report_says_in_a_line_how_the_rule_changed(tmp_path: Path) -> None:
    why = {
        "1.0.5": "Looks at the mass.",
        "1.1": "Allows 2.8 t, no longer 3 t, of any vehicle whatever its class is. " * 2,
    }
    stricter = made("mass.gvwr", lambda b: at_most(b.vehicle.mass.gvwr, 2800.0), changed=why)
    old, now = base_of([GVWR]), base_of([stricter], "1.2")

    def shown(today: str, base: Any = now) -> list[str]:
        inspection, baseline = against_report(tmp_path, (old, gvwr(2900)), (base, today))
        sheet = Sheet.of_width(80)
        add_compared(sheet, inspection, baseline)
        return plain(sheet.lines).split("\n")

    (line,) = [line for line in shown(gvwr(2900)) if "The rule changed" in line]
    assert "The rule changed, in 1.1 (and 1 change before): Allows 2.8 t" in line
    assert len(line) <= 80
    assert any("The rule changed, too, in 1.1" in line for line in shown(gvwr(2950)))
    assert not any("The rule changed" in line for line in shown(gvwr(3100), old))
    silent = base_of([made("mass.gvwr", lambda b: at_most(b.vehicle.mass.gvwr, 2800.0))], "1.2")
    assert any("does not say how" in line for line in shown(gvwr(2900), silent))


def test_an_answer_that_is_owed_only_now_is_so_because_of_the_stage(tmp_path: Path) -> None:
    base = base_of([made("mass.gvwr", lambda b: at_most(b.vehicle.mass.gvwr, 3000.0), due="quote")])
    today, baseline = against_report(tmp_path, (base, ""), (base, ""), ("plan", "quote"))
    one = baseline.compared[today.findings[0].key]
    assert (one.state, one.because) == ("new", "stage")


def test_a_result_that_hangs_on_the_day_is_another_because_of_the_day(tmp_path: Path) -> None:
    def stands(build: Build) -> Verdict:
        return holds(str(build.build.judged_on) < "2026-07-01")

    base = base_of([made("supply.offer", stands)])
    old, new = (f'[build]\njudged_on = "{day}"\n' for day in ("2026-06-30", "2026-07-01"))
    today, baseline = against_report(tmp_path, (base, old), (base, new))
    one = baseline.compared[today.findings[0].key]
    assert (one.state, one.because, baseline.fields) == ("new", "day", [])


def test_what_is_stated_otherwise_names_the_results_that_it_changes(tmp_path: Path) -> None:
    base = base_of([GVWR])
    old, new = gvwr(2900) + "[engine]\ncylinders = 4\n", gvwr(3100) + "[engine]\ncylinders = 6\nstrokes = 4\n"
    _, baseline = against_spec(old, (base, new))
    assert [tuple(one) for one in baseline.fields] == [
        ("engine.cylinders", "4", "6", ()),
        ("engine.strokes", "", "4", ()),
        ("vehicle.mass.gvwr", "2900 kg", "3100 kg", ("mass.gvwr",)),
    ]
    _, baseline = against_report(tmp_path, (base, old), (base, new))  # which tells of what its rules read
    assert [tuple(one) for one in baseline.fields] == [("vehicle.mass.gvwr", "2900 kg", "3100 kg", ("mass.gvwr",))]


def test_a_basis_or_a_tolerance_is_stated_otherwise_too() -> None:
    base = base_of([GVWR])
    guess = '[vehicle.mass]\ngvwr = { value = "2900 kg", tol = "2 %", basis = "assumed" }\n'
    _, baseline = against_spec(gvwr(2900), (base, guess))
    assert [(one.before, one.now) for one in baseline.fields] == [("2900 kg", "2900 kg (assumed)")]
    _, baseline = against_spec(guess, (base, guess))
    assert not baseline.fields


# -- the gate --------------------------------------------------------------------------------------------------------
def test_an_accepted_report_leaves_the_gate_to_what_is_new_or_worse(tmp_path: Path) -> None:
    base = base_of([AXLES])
    old = axles(front=5.0, rear=3.5)

    def gate(new: str, label: str = "s.toml") -> tuple[bool, tuple[str, ...]]:
        today, _ = against_report(tmp_path, (base, old), (base, new), label=label)
        made = gate_of(today, "error")
        return made.open, made.taken

    assert gate(old) == (True, ("gearing.axles",))
    assert gate(axles(front=4.8, rear=3.5)) == (True, ("gearing.axles",))
    assert gate(axles(front=5.2, rear=3.5)) == (False, ())
    assert gate(axles(front=5.0, rear=4.1)) == (False, ())
    assert gate(axles(front=3.9, rear=3.5)) == (True, ())
    # The report of another spec is compared with, and accepts nothing.
    assert gate(old, "other.toml") == (False, ())
    today, _ = against_spec(old, (base, old))
    assert not gate_of(today, "error").open


def test_a_rule_that_could_not_run_shuts_the_gate_whatever_was_accepted(tmp_path: Path) -> None:
    def breaks(build: Build) -> Verdict:
        raise ZeroDivisionError

    base = base_of([made("fit.a", breaks)])
    today, _ = against_report(tmp_path, (base, ""), (base, ""))
    assert not gate_of(today, "never").open


def test_what_somebody_had_signed_for_and_stands_again_is_new(tmp_path: Path) -> None:
    from dataclasses import replace

    base = base_of([GVWR])
    then, now = inspected(base, gvwr(3100)), inspected(base, gvwr(3100))
    signed = [replace(finding, suppression=Suppression("it never leaves the yard")) for finding in then.findings]
    then.findings = signed
    assert compare_with_spec(base, now, earlier_of(then)).state(now.findings[0].key) == "new"
    now.findings = signed
    assert compare_with_spec(base, now, earlier_of(then)).state(now.findings[0].key) == "unchanged"


def test_the_json_report_keeps_to_the_contract(tmp_path: Path) -> None:
    base = base_of([RATED, GVWR])
    old, new = SHAFT.format("rear", 1500) + gvwr(2900), SHAFT.format("hind", 2500) + gvwr(3100)
    today, _ = against_report(tmp_path, (base, old), (base, new))
    data = report_json(base, today)
    check_report(data)
    (spec,) = data["specs"]
    assert [spec["baseline"][name] for name in ("new", "solved", "worse", "better", "unchanged")] == [3, 1, 0, 0, 0]
    by_rule = {one["rule"]: one["baseline"] for one in spec["results"]}
    assert by_rule["mass.gvwr"] == {
        "state": "new",
        "because": "build",
        "fields": ["vehicle.mass.gvwr"],
        "was": {
            "kind": "pass",
            "level": None,
            "due": False,
            "found": {"value": 2900.0, "unit": "kg"},
            "margin": pytest.approx(100 / 3000),
        },
        "rule_changes": [],
    }
