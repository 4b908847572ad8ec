"""`study --show`: the figures that matter side by side, each part's own, at 80 columns and for programs."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from calling import call

from swaplint.kit.edits import sound_text

DIAMETER = "driveline.tyres.overall_diameter"
CALL = ("study", "sound.toml", "--vary", f"{DIAMETER}=700 mm,800 mm", "--rule", "gearing.cruise-rpm")


@pytest.fixture(autouse=True)
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The sound spec, on a screen of 80 columns."""
    (tmp_path / "sound.toml").write_text(sound_text(), encoding="utf-8")
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("COLUMNS", "80")


def worksheet(id: str) -> dict[str, float]:
    data = json.loads(call("worksheet", "sound.toml", id, "--format", "json").out)
    return {one["subject"]: one["value"] for one in data["quantities"] if one["id"] == id}


def test_a_quantity_of_several_parts_is_shown_for_each() -> None:
    loads = worksheet("mass.axle-load")
    assert len(loads) > 2
    data = json.loads(call(*CALL, "--show", "mass.axle-load", "--format", "json").out)
    for row in data["rows"]:
        assert {name: row["shown"][f"mass.axle-load {name}"] for name in loads} == loads
        assert row["shown"]["mass.axle-load"] == next(iter(loads.values()))
    assert set(data["units"]) >= {f"mass.axle-load {name}" for name in loads}
    (one, *_) = loads
    data = json.loads(call(*CALL, "--show", f"mass.axle-load {one}", "--format", "json").out)
    assert set(data["rows"][0]["shown"]) == {"mass.axle-load", f"mass.axle-load {one}"}


def test_what_has_no_room_as_a_row_stands_side_by_side() -> None:
    lines = call(*CALL, "--show", "gearing.cruise-rpm", "--show", "mass.axle-load").out.decode().splitlines()
    start = next(number for number, line in enumerate(lines) if line.startswith("SIDE BY SIDE"))
    table = lines[start + 1 : lines.index("", start)]
    assert table[0].split() == ["1", "2"]
    assert len({len(line) for line in table}) == 1
    assert max(map(len, lines)) <= 80
    cells = {line.rsplit("  ", 2)[0].strip(): line.split()[-4:] for line in table[1:]}
    rows = json.loads(call(*CALL, "--show", "gearing.cruise-rpm", "--format", "json").out)["rows"]
    speeds = [f"{row['shown']['gearing.cruise-rpm']:.0f}" for row in rows]
    rpm = next(line for line in table if line.startswith("gearing.cruise-rpm"))
    assert rpm.split()[1:] == [speeds[0], "r/min", speeds[1], "r/min"]
    assert any(name.startswith("mass.axle-load, ") for name in cells)


@pytest.mark.parametrize(
    ("name", "says"),
    [
        ("mass.axle-lod", "did you mean 'mass.axle-load'"),
        ("nothing", "worksheet"),
        ("mass.axle-load nowhere", "is of no 'nowhere'"),
        ("", "neither"),
    ],
)
def test_what_cannot_be_shown_is_said_with_what_can(name: str, says: str) -> None:
    ran = call(*CALL, "--show", name)
    assert ran.status == 2
    assert says in ran.err.decode()
