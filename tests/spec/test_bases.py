"""A spec that stands on another: what it takes over and what not, where each value is from, and what is refused."""

from __future__ import annotations

import os
import random
import tomllib
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
import tomli_w
from hypothesis import given, settings
from hypothesis import strategies as st

from swaplint.spec.fields import Section
from swaplint.spec.layers import MAX_BASES_DEEP, NOT_INHERITED
from swaplint.spec.loaded import LoadedSpec, SpecErrors
from swaplint.spec.loading import load_spec, with_sheets
from swaplint.spec.model import Build
from swaplint.spec.renamed import put_at
from swaplint.spec.shape import members
from swaplint.spec.toml_source import PathKey, SpecError

SPECS = Path(__file__).parents[2] / "specs"

BASE = """
[build]
name = "invented base"
stage = "build"

[driveline.gearbox]
sheet = "box.toml"
pilot_required = false

[driveline.axles.front]
ratio = 3.9

[driveline.axles.rear]
ratio = 4.3
driven = true

[[engine.torque_curve]]
speed = "1000 r/min"
torque = "300 Nm"

[[engine.torque_curve]]
speed = "2000 r/min"
torque = "400 Nm"
"""
BOX = """
ratios = [5.0, 2.5, 1.0]
[document]
title = "Invented box"
"""


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    (tmp_path / "base.toml").write_text(BASE)
    (tmp_path / "box.toml").write_text(BOX)
    return tmp_path


def variant(folder: Path, text: str, **options: Any) -> LoadedSpec:
    (folder / "variant.toml").write_text(f'[build]\nbase = "base.toml"\n{text}')
    return load_spec(str(folder / "variant.toml"), **options)


def errors(folder: Path, text: str, **options: Any) -> list[SpecError]:
    with pytest.raises(SpecErrors) as caught:
        variant(folder, text, **options)
    return list(caught.value.errors)


def values(spec: LoadedSpec, path: str) -> Any:
    stated = spec.stated(path)
    return None if stated is None else stated.value


def where(spec: LoadedSpec, path: str) -> tuple[str, int]:
    place = spec.place(path)
    return Path(place.file).name, place.line


# -- what is taken over --------------------------------------------------------------------------------------------
def test_what_is_left_out_comes_from_the_base_and_what_is_stated_wins(folder: Path) -> None:
    spec = variant(folder, "[driveline.axles.rear]\nratio = 3.5\n")
    assert values(spec, "driveline.axles.rear.ratio") == 3.5
    assert values(spec, "driveline.axles.rear.driven") is True
    assert values(spec, "driveline.axles.front.ratio") == 3.9
    assert [one.value for one in spec.build.driveline.gearbox.ratios] == [5.0, 2.5, 1.0]  # type: ignore[attr-defined]
    assert where(spec, "driveline.axles.rear.ratio") == ("variant.toml", 4)
    assert where(spec, "driveline.axles.rear.driven") == ("base.toml", 15)
    assert where(spec, "driveline.gearbox.ratios") == ("box.toml", 2)
    assert [Path(file.label).name for file in spec.files()] == ["variant.toml", "base.toml", "box.toml"]
    assert str(spec.document("driveline.gearbox.ratios")) == "Invented box"
    assert spec.document("driveline.axles.rear.driven") is None


def test_the_parts_keep_the_order_of_the_base(folder: Path) -> None:
    spec = variant(folder, "[driveline.axles.tag]\nratio = 3.5\n[driveline.axles.rear]\nratio = 3.5\n")
    assert list(spec.build.driveline.axles) == ["front", "rear", "tag"]  # type: ignore[attr-defined]


def test_the_stage_is_not_taken_over(folder: Path) -> None:
    spec = variant(folder, "")
    assert values(spec, "build.stage") is None
    assert values(spec, "build.name") == "invented base"
    assert {("build", "stage"), ("measured",), ("deviations",)} <= set(NOT_INHERITED)


def test_a_list_replaces_a_list(folder: Path) -> None:
    spec = variant(folder, '[engine]\ntorque_curve = [{ speed = "900 r/min" }]\n')
    assert len(spec.build.engine.torque_curve) == 1  # type: ignore[attr-defined]
    assert values(spec, "engine.torque_curve[1].torque") is None


def test_an_empty_collection_says_that_there_is_none(folder: Path) -> None:
    assert variant(folder, "[driveline]\naxles = {}\n").build.driveline.axles == {}  # type: ignore[attr-defined]


def test_a_value_with_its_tolerance_is_taken_over_whole(folder: Path) -> None:
    (folder / "base.toml").write_text('[vehicle]\nwheelbase = { value = "2900 mm", tol = "1 %", basis = "measured" }\n')
    spec = variant(folder, '[vehicle]\nwheelbase = { value = "3000 mm" }\n')
    stated = spec.stated("vehicle.wheelbase")
    assert stated is not None
    assert (stated.value, stated.tol, stated.basis) == (3.0, 0.0, None)


def test_another_data_sheet_takes_the_place_of_the_one_in_the_base(folder: Path) -> None:
    (folder / "long.toml").write_text("ratios = [6.0, 1.0]\n")
    spec = variant(folder, '[driveline.gearbox]\nsheet = "long.toml"\n')
    assert [one.value for one in spec.build.driveline.gearbox.ratios] == [6.0, 1.0]  # type: ignore[attr-defined]
    assert values(spec, "driveline.gearbox.pilot_required") is False  # the base's own word stands beside any
    assert spec.act_place("driveline.gearbox.ratios").line == 4


def test_a_sheet_is_looked_for_beside_the_base_that_names_it(folder: Path) -> None:
    (folder / "common").mkdir()
    (folder / "base.toml").rename(folder / "common" / "base.toml")
    (folder / "common" / "box.toml").write_text("ratios = [7.0]\n")
    (folder / "variant.toml").write_text('[build]\nbase = "common/base.toml"\n')
    spec = load_spec(str(folder / "variant.toml"))
    assert [one.value for one in spec.build.driveline.gearbox.ratios] == [7.0]  # type: ignore[attr-defined]


def test_a_base_from_the_shop_s_folder(folder: Path, tmp_path_factory: pytest.TempPathFactory) -> None:
    shop = tmp_path_factory.mktemp("shop")
    for name in ("base.toml", "box.toml"):
        (folder / name).rename(shop / name)
    assert "no base spec" in errors(folder, "")[0].what
    spec = variant(folder, "", sheet_folders=[shop])
    assert [one.value for one in spec.build.driveline.gearbox.ratios] == [5.0, 2.5, 1.0]  # type: ignore[attr-defined]


def test_bases_chain(folder: Path) -> None:
    (folder / "second.toml").write_text('[build]\nbase = "variant.toml"\n[driveline.axles.front]\nratio = 3.1\n')
    variant(folder, "[driveline.axles.rear]\nratio = 3.5\n")
    spec = load_spec(str(folder / "second.toml"))
    found = [values(spec, f"driveline.axles.{name}.ratio") for name in ("front", "rear")]
    assert found == [3.1, 3.5]
    assert where(spec, "driveline.axles.rear.ratio") == ("variant.toml", 4)
    assert where(spec, "driveline.axles.rear.driven") == ("base.toml", 15)


def test_where_to_act(folder: Path) -> None:
    spec = variant(folder, "[driveline.axles.rear]\nratio = 3.5\n")
    assert spec.act_place("driveline.axles.rear.driven").line == 15  # in the base
    assert spec.act_place("driveline.axles.rear.driven", own=True)[:2] == (spec.label, 2)
    assert Path(spec.act_place("driveline.gearbox.ratios").file).name == "base.toml"
    assert spec.act_place("driveline.gearbox.ratios").line == 7
    assert spec.act_place("driveline.axles.rear.ratio", own=True)[:2] == (spec.label, 4)


def test_sheets_can_be_varied_under_a_variant(folder: Path) -> None:
    (folder / "long.toml").write_text("ratios = [6.0, 1.0]\n")
    spec = with_sheets(variant(folder, ""), {"driveline.gearbox.sheet": "long.toml"})
    assert [one.value for one in spec.build.driveline.gearbox.ratios] == [6.0, 1.0]  # type: ignore[attr-defined]
    assert values(spec, "driveline.axles.front.ratio") == 3.9


def test_a_part_that_the_base_takes_from_a_sheet_of_a_sheet(folder: Path) -> None:
    (folder / "engine.toml").write_text('sheet = "fuel.toml"\n[document]\ntitle = "Engine"\n')
    (folder / "fuel.toml").write_text('[fuel]\nmax_inlet_restriction = "20 kPa"\nsupply_flow = "2 L/min"\n')
    (folder / "base.toml").write_text('[engine]\nsheet = "engine.toml"\n')
    spec = variant(folder, '[engine.fuel]\nsupply_flow = "3 L/min"\n')
    assert where(spec, "engine.fuel.max_inlet_restriction") == ("fuel.toml", 2)
    assert where(spec, "engine.fuel.supply_flow") == ("variant.toml", 4)


# -- unknown again -------------------------------------------------------------------------------------------------
@pytest.mark.parametrize(
    ("text", "gone"),
    [
        ("[driveline.axles.rear]\nratio = { unknown = true }\n", "driveline.axles.rear.ratio"),
        ("[driveline.gearbox]\nratios = { unknown = true }\n", "driveline.gearbox.ratios"),  # of the base's sheet
        ("[driveline.axles]\nrear = { unknown = true }\n", "driveline.axles.rear"),
        ("[driveline.axles.rear]\nunknown = true\n", "driveline.axles.rear"),
        ("[driveline]\ngearbox = { unknown = true }\n", "driveline.gearbox"),
        ("[driveline]\naxles = { unknown = true }\n", "driveline.axles"),
        ("[engine]\ntorque_curve = { unknown = true }\n", "engine.torque_curve"),
        (
            "[driveline.axles]\nrear = { unknown = true }\nfront = { unknown = true }\n",
            "driveline.axles",  # not the same as: there are none
        ),
    ],
)
def test_a_value_is_made_unknown_again(folder: Path, text: str, gone: str) -> None:
    whole, spec = variant(folder, ""), variant(folder, text)
    assert whole.has(gone)
    assert not spec.has(gone)
    assert spec.place(gone).file == spec.label


def test_what_is_unknown_says_no_more(folder: Path) -> None:
    for text in ("ratio = { unknown = true, value = 3.5 }", "ratio = { unknown = false }"):
        found = errors(folder, f"[driveline.axles.rear]\n{text}\n")
        assert [(error.line, error.what) for error in found] == [
            (
                4,
                "driveline.axles.rear.ratio.unknown: what is not known says that and no more, "
                "ratio = { unknown = true }",
            )
        ]
    found = errors(folder, "[driveline.axles.rear]\nunknown = true\nratio = 3.5\n")
    assert "rear = { unknown = true }" in found[0].what


# -- what is refused -----------------------------------------------------------------------------------------------
def test_a_circle(folder: Path) -> None:
    (folder / "base.toml").write_text('[build]\nbase = "variant.toml"\n')
    (error,) = errors(folder, "")
    assert error.what == "specs stand on each other in a circle: variant.toml → base.toml → variant.toml"
    assert (Path(error.file).name, error.line) == ("base.toml", 2)


def test_a_spec_that_stands_on_itself(folder: Path) -> None:
    (folder / "base.toml").write_text('[build]\nbase = "base.toml"\n')
    with pytest.raises(SpecErrors, match="in a circle"):
        load_spec(str(folder / "base.toml"))


def test_too_long_a_chain(folder: Path) -> None:
    for number in range(MAX_BASES_DEEP + 3):
        (folder / f"n{number}.toml").write_text(f'[build]\nbase = "n{number + 1}.toml"\n')
    (folder / f"n{MAX_BASES_DEEP}.toml").write_text('[vehicle]\nwheelbase = "3 m"\n')
    assert values(load_spec(str(folder / "n0.toml")), "vehicle.wheelbase") == 3.0
    (folder / f"n{MAX_BASES_DEEP}.toml").write_text(f'[build]\nbase = "n{MAX_BASES_DEEP + 1}.toml"\n')
    with pytest.raises(SpecErrors, match=f"more than {MAX_BASES_DEEP} deep"):
        load_spec(str(folder / "n0.toml"))


@pytest.mark.parametrize("name", ["../base.toml", "/etc/passwd", "gone.toml", "", "a\\u0000b", "x" * 400, "link.toml"])
def test_only_files_in_the_spec_s_folder(folder: Path, name: str) -> None:
    inside = folder / "inside"
    inside.mkdir()
    os.symlink(folder / "base.toml", inside / "link.toml")
    (inside / "variant.toml").write_text(f'[build]\nbase = "{name}"\n')
    with pytest.raises(SpecErrors) as caught:
        load_spec(str(inside / "variant.toml"))
    said = " ".join(error.what for error in caught.value.errors)
    error = caught.value.errors[0]
    assert (Path(error.file).name, error.line) == ("variant.toml", 2)
    assert any(
        words in said for words in ("lies outside the spec's folder", "there is no base spec", "not a file name")
    )


@pytest.mark.parametrize("name", [".", "pipe", "broken.toml", "huge.toml", "binary.toml"])
def test_what_is_no_spec(folder: Path, name: str) -> None:
    os.mkfifo(folder / "pipe")
    (folder / "broken.toml").write_text("[build\n")
    (folder / "huge.toml").write_text("#" * 600_000)
    (folder / "binary.toml").write_bytes(bytes(range(256)))
    (folder / "variant.toml").write_text(f'[build]\nbase = "{name}"\n')
    with pytest.raises(SpecErrors) as caught:
        load_spec(str(folder / "variant.toml"))
    assert len(caught.value.errors) == 1


def test_a_data_sheet_is_no_base(folder: Path) -> None:
    (folder / "base.toml").write_text(BOX)
    (error,) = errors(folder, "")
    assert (error.line, error.what) == (
        2,
        "base.toml has no section of a build spec, so that nothing can stand on it",
    )


def test_faults_in_the_base_are_told_at_their_place(folder: Path) -> None:
    (folder / "base.toml").write_text(
        '[build]\nformat = 9\n[vehicle]\nwheelbase = "3 kg"\nweelbase = "3 m"\n[driveline.axles."a b"]\nratio = 3\n'
        '[engine]\nsheet = "gone.toml"\n'
    )
    found = errors(folder, "")
    assert [(Path(error.file).name, error.line) for error in found] == [("base.toml", line) for line in (2, 4, 5, 6, 9)]
    # what the variant states over a fault mends it
    assert [e.line for e in errors(folder, '[vehicle]\nwheelbase = "3 m"\n')] == [2, 5, 6, 9]


def test_no_more_text_than_a_bound(folder: Path) -> None:
    (folder / "base.toml").write_text("# " + "x" * 400_000 + "\n" + BASE)
    for number in range(6):
        (folder / f"n{number}.toml").write_text(
            f'[build]\nbase = "{"base.toml" if number == 5 else f"n{number + 1}.toml"}"\n# {"x" * 400_000}\n'
        )
    with pytest.raises(SpecErrors, match="come to more than 2000 kB in all"):
        load_spec(str(folder / "n0.toml"))


# -- any spec, in two ----------------------------------------------------------------------------------------------
def leaves(model: type[Section], data: dict[str, Any], path: PathKey = ()) -> Iterator[tuple[PathKey, Any]]:
    """Everything that a spec states, each value, list and empty table by itself."""
    shape = members(model)
    for key, value in data.items():
        member = shape[key]
        if member.role == "part" and value:
            assert member.model is not None
            yield from leaves(member.model, value, (*path, key))
        elif member.role == "parts" and value:
            assert member.model is not None
            for name, part in value.items():
                yield from leaves(member.model, part, (*path, key, name)) if part else iter([((*path, key, name), {})])
        else:
            yield (*path, key), value


@settings(max_examples=12, deadline=None)
@given(name=st.sampled_from(["tarnholt-tender.toml", "skerrivar-van.toml"]), seed=st.integers(0, 10**9))
def test_any_spec_split_into_base_and_rest_says_the_same(
    name: str, seed: int, tmp_path_factory: pytest.TempPathFactory
) -> None:
    folder, dice = tmp_path_factory.mktemp("split"), random.Random(seed)
    (folder / "sheets").symlink_to(SPECS / "sheets")
    whole = load_spec(str(SPECS / name))
    parts: list[dict[str, Any]] = [{"build": {"base": "base.toml"}}, {}]
    for path, value in leaves(Build, tomllib.loads((SPECS / name).read_text())):
        lower = dice.random() < 0.7 and path != ("build", "stage")
        put_at(parts[lower], path, value)
        if not lower and dice.random() < 0.3 and value != {}:  # another value in the base gives way
            put_at(parts[1], path, dice.choice([value, [], "2 kg", 17, {"value": "3 mm", "tol": "1 mm"}]))
    for file, data in zip(("variant.toml", "base.toml"), parts, strict=True):
        (folder / file).write_text(tomli_w.dumps(data))
    spec = load_spec(str(folder / "variant.toml"), sheet_folders=[SPECS / "sheets"])
    assert spec.build.model_dump(exclude={"build": {"base"}}) == whole.build.model_dump(exclude={"build": {"base"}})
    for path, _ in leaves(Build, parts[0]):
        assert spec.place_at(path).file == spec.label
