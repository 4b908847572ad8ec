"""The validator of a spec is pydantic's own, put together from what is known of the sections."""

from __future__ import annotations

import copy
from typing import Any

import pytest
from pydantic import ValidationError, create_model

from swaplint.spec.fields import Section, number, part
from swaplint.spec.model import Build
from swaplint.spec.validating import Before, validated

SOUND: dict[str, Any] = {
    "build": {"stage": "plan"},
    "engine": {"torque_curve": [{"speed": "1000 r/min", "torque": "200 N m"}], "document": {"title": "a"}},
    "driveline": {"gearbox": {"ratios": [4.0, 1.0], "fitted": True}, "axles": {"rear": {"ratio": 4.1}}},
}
WRONG: list[tuple[tuple[str | int, ...], Any]] = [
    (("engine",), 3),
    (("engine", "fitted"), "yes"),
    (("engine", "nonsense"), 1),
    (("engine", "torque_curve"), {}),
    (("engine", "torque_curve", 0), "a"),
    (("engine", "torque_curve", 0, "speed"), 1000),
    (("engine", "document"), []),
    (("driveline", "gearbox", "ratios"), "4"),
    (("driveline", "gearbox", "ratios", 1), "one"),
    (("driveline", "axles"), [1]),
    (("driveline", "axles", "rear"), None),
    (("driveline", "axles", 4), {}),
    (("nonsense",), {}),
]


def put(path: tuple[str | int, ...], value: Any) -> dict[str, Any]:
    data: Any = copy.deepcopy(SOUND)
    node = data
    for key in path[:-1]:
        node = node[key]
    node[path[-1]] = value
    return data  # type: ignore[no-any-return]


def refused(error: ValidationError) -> list[tuple[Any, ...]]:
    return [(e["type"], e["loc"], e["msg"], str(e["input"])) for e in error.errors(include_url=False)]


def test_what_is_sound_is_read_as_pydantic_reads_it() -> None:
    ours, theirs = validated(Build, SOUND), Build.model_validate(SOUND)
    assert ours == theirs
    assert type(ours) is Build
    assert ours.model_fields_set == theirs.model_fields_set == {"build", "engine", "driveline"}


@pytest.mark.parametrize(("path", "value"), WRONG, ids=lambda thing: str(thing))
def test_what_is_wrong_is_refused_as_pydantic_refuses_it(path: tuple[str | int, ...], value: Any) -> None:
    with pytest.raises(ValidationError) as ours:
        validated(Build, put(path, value))
    with pytest.raises(ValidationError) as theirs:
        Build.model_validate(put(path, value))
    assert refused(ours.value) == refused(theirs.value)


def test_a_section_of_a_pack_is_read_by_pydantic_itself() -> None:
    from pydantic import model_validator

    class Hoist(Section):
        """A section that asks for more than fields."""

        load: float = number("what it lifts", typical=2, plausible=(1, 9), where="the plate")

        @model_validator(mode="after")
        def not_three(self) -> Hoist:
            if self.load.value == 3:  # type: ignore[attr-defined]
                raise ValueError("three is too many")
            return self

    model = create_model("Build", __base__=Build, hoist=(Hoist, part("the hoist")))
    assert validated(model, {"hoist": {"load": 2}}) == model.model_validate({"hoist": {"load": 2}})
    with pytest.raises(ValidationError, match="three is too many"):
        validated(model, {"hoist": {"load": 3}})


# -- read again after an edit -------------------------------------------------------------------------------------
def test_only_the_sections_that_hold_an_edit_are_made_anew() -> None:
    before: Before = {}
    first = validated(Build, SOUND, before)
    again = validated(Build, put(("driveline", "axles", "rear", "ratio"), 4.3), before)
    assert again == validated(Build, put(("driveline", "axles", "rear", "ratio"), 4.3))
    assert again.engine is first.engine
    assert again.driveline.gearbox is first.driveline.gearbox
    assert again.driveline.axles["rear"] is not first.driveline.axles["rear"]
    assert validated(Build, SOUND, before) == first


@pytest.mark.parametrize("other", [1, 1.0, "true"])
def test_what_python_takes_for_the_same_is_not_the_same(other: Any) -> None:
    before: Before = {}
    validated(Build, SOUND, before)  # where the gearbox is fitted: true
    with pytest.raises(ValidationError):
        validated(Build, put(("driveline", "gearbox", "fitted"), other), before)
    assert validated(Build, SOUND, before) == validated(Build, SOUND)


@pytest.mark.parametrize(("path", "value"), WRONG, ids=lambda thing: str(thing))
def test_what_is_wrong_is_refused_again_and_again(path: tuple[str | int, ...], value: Any) -> None:
    before: Before = {}
    validated(Build, SOUND, before)
    with pytest.raises(ValidationError) as afresh:
        validated(Build, put(path, value))
    for _ in range(2):
        with pytest.raises(ValidationError) as again:
            validated(Build, put(path, value), before)
        assert [error[:3] for error in refused(again.value)] == [error[:3] for error in refused(afresh.value)]


def test_parts_that_go_and_come_back_are_those_that_are_stated() -> None:
    before: Before = {}
    validated(Build, SOUND, before)
    gone = validated(Build, {"driveline": {"axles": {"front": {"ratio": 3.9}}}}, before)
    assert gone == validated(Build, {"driveline": {"axles": {"front": {"ratio": 3.9}}}})
    assert gone.engine is None
    assert list(gone.driveline.axles) == ["front"]
    assert validated(Build, SOUND, before) == validated(Build, SOUND)


def test_a_section_of_another_model_is_never_taken_over() -> None:
    before: Before = {}
    validated(Build, SOUND, before)
    model = create_model("Build", __base__=Build)
    assert type(validated(model, SOUND, before)) is model
