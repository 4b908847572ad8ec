"""Edits to the shared sound spec, for authors' tests."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import Any

import pytest

from swaplint.kit.edits import EditedFile, edited_data, edited_spec, sound_text
from swaplint.kit.trial import rule_base
from swaplint.spec.loaded import LoadedSpec
from swaplint.spec.loading import SpecErrors, load

BASE: dict[str, Any] = {
    "engine": {"cylinders": 4, "curve": [{"speed": 1}, {"speed": 2}]},
    "axles": {"front": {"ratio": 4.1, "driven": True}, "rear": {"ratio": 4.1}},
}


@pytest.mark.parametrize(
    ("edits", "path", "value"),
    [
        ({"engine.cylinders": 6}, ("engine", "cylinders"), 6),
        ({"engine.strokes": 4}, ("engine", "strokes"), 4),
        ({"vehicle.mass.gvwr": "1 kg"}, ("vehicle", "mass", "gvwr"), "1 kg"),
        ({"engine.curve[1].speed": 9}, ("engine", "curve", 0, "speed"), 9),
        ({"engine.curve[3]": {"speed": 3}}, ("engine", "curve", 2, "speed"), 3),
        ({"engine.curve[3].speed": 3}, ("engine", "curve", 2, "speed"), 3),
        ({"engine.curve[1]": None}, ("engine", "curve"), [{"speed": 2}]),
        ({"engine.cylinders": None}, ("engine",), {"curve": [{"speed": 1}, {"speed": 2}]}),
        ({"engine.nothing": None, "no.such.part": None}, ("engine", "cylinders"), 4),
        ({"axles.*.ratio": 3.9}, ("axles",), {"front": {"ratio": 3.9, "driven": True}, "rear": {"ratio": 3.9}}),
        ({"axles.*.driven": None}, ("axles",), {"front": {"ratio": 4.1}, "rear": {"ratio": 4.1}}),
        ({"axles.*": None}, ("axles",), {}),
        ({"lines[1].item": "x"}, ("lines",), [{"item": "x"}]),
        ({"engine": {"fitted": False}}, ("engine",), {"fitted": False}),
        ({"axles.tag.ratio": 3, "axles.*.driven": False}, ("axles", "tag"), {"ratio": 3, "driven": False}),
    ],
)
def test_an_edit_puts_the_value_where_it_says(edits: dict[str, Any], path: tuple[str | int, ...], value: Any) -> None:
    node: Any = edited_data(edits, BASE)
    for key in path:
        node = node[key]
    assert node == value


def test_edits_leave_the_base_alone() -> None:
    before = repr(BASE)
    value = {"speed": [1]}
    data = edited_data({"engine.curve[1]": value, "axles.*.ratio": value}, BASE)
    data["axles"]["front"]["ratio"]["speed"].append(2)
    assert repr(BASE) == before
    assert value == {"speed": [1]}
    assert data["axles"]["rear"]["ratio"] == {"speed": [1]}


@pytest.mark.parametrize(
    "path",
    [
        "",
        "a..b",
        "engine.curve[0]",
        "engine.curve[9]",
        "engine.curve[9].speed",
        "engine.curve.speed",
        "engine.cylinders.more",
        "engine.cylinders[1]",
        "nothing.*.ratio",
        "engine.cylinders.*.x",
        "engine.curve.*.speed",
    ],
)
def test_an_edit_of_what_is_not_there_is_refused_with_a_sentence(path: str) -> None:
    with pytest.raises(ValueError, match=r".") as caught:
        edited_data({path: 1}, BASE)
    assert not isinstance(caught.value, UnicodeError)
    assert path in str(caught.value)


def test_the_sound_spec_is_loaded_with_its_edits() -> None:
    assert edited_spec({}).file.text == sound_text()
    stated = edited_spec({"engine.cylinders": 6}).stated("engine.cylinders")
    assert stated is not None
    assert stated.value == 6.0
    with pytest.raises(SpecErrors, match="whole number"):
        edited_spec({"engine.cylinders": "six"})
    with pytest.raises(SpecErrors, match="did you mean 'cylinders'"):
        edited_spec({"engine.cylindres": 6})


def test_the_sound_spec_says_that_it_is_invented() -> None:
    assert "invented" in sound_text().splitlines()[1]


# -- only the sections that are edited are read again ------------------------------------------------------------------
def read_whole(edits: Mapping[str, Any]) -> LoadedSpec:
    """The edited sound spec, read as a file that nobody has read before."""
    return load(EditedFile("sound.toml", edited_data(edits)), Path.cwd(), model=rule_base().model)


EXAMPLES = [edits for _, rule in rule_base().rules for edits in (*rule.bad, *rule.good)][::30]
OTHERS: list[dict[str, Any]] = [
    {"engine": None, "electrics": {}},
    {"supply": None, "deviations[1]": {"rule": "fuel.suction-loss", "reason": "agreed"}, "build.stage": "plan"},
    {"engine.sheet": "specs/sheets/fellgate-four.engine.toml"},
    {"build.base": "specs/tarnholt-tender.toml"},
    {"driveline.axles.*.ratio": {"unknown": True}},
    {"measured": {}},
]


@pytest.mark.parametrize("edits", [*EXAMPLES, *OTHERS], ids=lambda edits: " ".join(edits)[:60])
def test_an_edited_spec_is_the_one_that_is_read_whole(edits: dict[str, Any]) -> None:
    spec, whole = edited_spec(edits, rule_base().model), read_whole(edits)
    assert spec.build == whole.build
    for one, other in ((spec.stated_data, whole.stated_data), (spec.file.data, whole.file.data)):
        assert list(one.items()) == list(other.items())
    assert spec.file.text == whole.file.text
    assert list(spec.sheets) == list(whole.sheets)
    assert list(spec.lower) == list(whole.lower)
    assert spec.origins.keys() == whole.origins.keys()


def test_what_is_wrong_with_an_edited_spec_is_said_in_full() -> None:
    edits = {"engine.cylinders": "four", "vehicle.mass.gvwr": 3}
    with pytest.raises(SpecErrors) as found:
        edited_spec(edits, rule_base().model)
    with pytest.raises(SpecErrors) as whole:
        read_whole(edits)
    assert len(found.value.errors) == 2
    assert str(found.value) == str(whole.value)
