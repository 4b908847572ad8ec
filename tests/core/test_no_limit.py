"""A maker's limit of which a sheet says "none": a stated fact, which is no number, and not the same as silence."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest
import tomli_w
from tests_making import SOURCE, inspected, made

from swaplint.api import (
    Build,
    Practice,
    Verdict,
    at_most,
    does_not_apply,
    given,
    holds,
    limit_or_none,
    or_practice,
    quantity,
)
from swaplint.cli import main
from swaplint.inspecting.results import Finding
from swaplint.kit.trial import one, value
from swaplint.spec.facts import NO_LIMIT
from swaplint.spec.fields import Section
from swaplint.spec.loading import SpecErrors, load_text
from swaplint.spec.model import Build as Model
from swaplint.spec.shape import every_field, members
from swaplint.writing.examples import example_data

LIMIT = "engine.fuel.max_inlet_restriction"
NONE = f'{LIMIT} = "none"\n'
STATED = f'{LIMIT} = "20 kPa"\n'
USUAL = Practice("an invented greatest depression of 30 kPa", 30e3, SOURCE)


def found(function: Any, spec: str) -> Finding:
    inspection, problems = inspected(spec, made("fuel.made-up", function), stage="build")
    assert not problems
    (finding,) = inspection.findings
    return finding


def plain(build: Build) -> Verdict:
    return at_most(10e3, build.engine.fuel.max_inlet_restriction)


def optional(build: Build) -> Verdict:
    limit = given(lambda: build.engine.fuel.max_inlet_restriction)
    return holds(True, "not limited") if limit is None else at_most(10e3, limit)


def asking(build: Build) -> Verdict:
    limit = limit_or_none(lambda: build.engine.fuel.max_inlet_restriction)
    return does_not_apply("The maker limits nothing.") if limit is None else at_most(10e3, limit)


def on_practice(build: Build) -> Verdict:
    return at_most(40e3, or_practice(lambda: build.engine.fuel.max_inlet_restriction, USUAL))


@pytest.mark.parametrize(
    ("function", "unsaid", "none", "stated"),
    [
        (plain, "open", "review", "pass"),
        (optional, "pass", "pass", "pass"),
        (asking, "open", "notApplicable", "pass"),
        (on_practice, "fail", "fail", "fail"),
    ],
)
def test_how_a_rule_may_read_a_limit(function: Any, unsaid: str, none: str, stated: str) -> None:
    assert [found(function, spec).kind for spec in ("", NONE, STATED)] == [unsaid, none, stated]


@pytest.mark.parametrize("function", [plain, optional, asking, on_practice])
def test_none_is_a_stated_fact(function: Any) -> None:
    finding = found(function, NONE)
    assert (finding.inputs, finding.unknown, finding.optional) == ((LIMIT,), (), ())


def test_a_practice_that_stands_in_is_named() -> None:
    assert found(on_practice, NONE).practices == (USUAL.name,)
    assert found(on_practice, STATED).practices == ()


def test_a_rule_that_needs_a_number_leaves_it_to_a_person() -> None:
    message = found(plain, NONE).message
    assert LIMIT in message
    assert "a person must decide, or ask the maker" in message


def test_a_quantity_of_a_limit_that_there_is_not_has_no_value() -> None:
    @quantity("fuel.made-up-number", "pressure_difference", "kPa", formula="p", sources=[SOURCE])
    def twice(build: Build) -> float:
        """Twice the limit."""
        return 2.0 * build.engine.fuel.max_inlet_restriction

    def by_quantity(build: Build) -> Verdict:
        limit = limit_or_none(lambda: twice(build))
        return does_not_apply("none") if limit is None else at_most(1.0, limit)

    assert [found(by_quantity, spec).kind for spec in ("", NONE, STATED)] == ["open", "notApplicable", "pass"]


# -- what a spec may say ---------------------------------------------------------------------------------------------
@pytest.mark.parametrize("typed", ['"None"', '"no"', '""', "20", '"20 L"', "true", '["none"]', '{ value = "none" }'])
def test_a_wrong_value_hears_of_it(typed: str) -> None:
    with pytest.raises(SpecErrors) as caught:
        load_text(f"{LIMIT} = {typed}\n")
    assert 'or "none", where its maker states no such limit' in str(caught.value)


def test_only_limits_take_it() -> None:
    with pytest.raises(SpecErrors) as caught:
        load_text('vehicle.mass.gvwr = "none"\n')
    assert "where its maker states no such limit" not in str(caught.value)


def test_a_limit_is_found_in_a_sheet_or_stated_for_a_part() -> None:
    marked = [path for path, member in every_field(Model) if member.facts is not None and member.facts.limit]
    assert LIMIT in marked
    assert "driveline.gearbox.gcw_rating" in marked
    assert not [path for path in marked if path.startswith(("build.", "vehicle.mass.", "measured."))]


def _none_everywhere(model: type[Section], data: dict[str, Any]) -> None:
    """Answer every maker's limit in a spec with none."""
    for name, member in members(model).items():
        if member.facts is not None and member.facts.limit:
            data[name] = NO_LIMIT
        elif member.model is not None:
            below = data[name]
            inner = {"part": [below], "items": below, "parts": below.values() if member.role == "parts" else ()}
            for child in inner[member.role]:
                _none_everywhere(member.model, child)


def test_a_build_whose_makers_limit_nothing_is_reported_whole(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    data = example_data(Model)
    _none_everywhere(Model, data)
    file = tmp_path / "s.toml"
    file.write_text(tomli_w.dumps(data), encoding="utf-8")
    assert file.read_text(encoding="utf-8").count('"none"') > 100
    for form in ("sarif", "text"):
        assert main(["inspect", str(file), "--format", form]) in (0, 1)
    capsys.readouterr()
    assert main(["inspect", str(file), "--format", "json"]) in (0, 1)
    inputs = [i for r in json.loads(capsys.readouterr().out)["specs"][0]["results"] for i in r["inputs"]]
    said = [i for i in inputs if i["field"] == "engine.rear_face.bending_moment_max"]
    assert {(i["value"], i["unit"], i["tol"]) for i in said} == {("none", None, None)}
    assert main(["worksheet", str(file)]) == 0


def test_rules_of_the_trade_on_it() -> None:
    gearbox = {"driveline.gearbox.gcw_rating": "none", "driveline.gearbox.input_torque_rating": "none"}
    assert one("driveline.gearbox-torque", gearbox, demand="combination-mass").kind == "notApplicable"
    assert one("driveline.gearbox-torque", gearbox, demand="input-torque").kind == "review"
    assert value("gearing.top-speed", gearbox) == pytest.approx(value("gearing.top-speed"))
    assert one("intake.plausible-value", {"engine.air.restriction_max_clean": "none"}).kind == "pass"
