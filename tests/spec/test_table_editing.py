"""Changing one value in a table beside a spec: that cell and no other byte."""

from __future__ import annotations

import random
from pathlib import Path

import pytest

from swaplint.cli import main
from swaplint.spec.editing.values import EditError
from swaplint.spec.loading import load_spec
from swaplint.spec.paths import path_key
from swaplint.spec.table_editing import with_values

CABLES = "electrics.cables"
TABLE = 'name,role,length (m),fuse,note\r\nstarter,starter,1.8,,"by the ""left"" rail"\r\nfan,fan,"2.5 m",30 A,\r\n'
SEMICOLONS = "name;role;length;fuse\nstarter;starter;1,8 m;\nfan;fan;2,5 m;30 A\n"


def changed(folder: Path, table: str, field: str, value: object, code: str = "utf-8") -> str:
    (folder / "cables.csv").write_bytes(table.encode(code))
    (folder / "spec.toml").write_text(f'[tables]\n"{CABLES}" = "cables.csv"\n')
    file, text = with_values(load_spec(str(folder / "spec.toml")), {path_key(f"{CABLES}.{field}"): value})
    assert Path(file.label).name == "cables.csv"
    return text


@pytest.mark.parametrize(
    ("table", "field", "value", "old", "new"),
    [
        (TABLE, "starter.length", "2.1 m", "1.8", "2.1 m"),
        (TABLE, "fan.length", "3 m", '"2.5 m"', "3 m"),
        (TABLE, "fan.fuse", "40 A", "30 A", "40 A"),
        (TABLE, "fan.role", "lamps", ",fan,", ",lamps,"),
        (TABLE, "starter.note", "=A1, or so", '"by the ""left"" rail"', '"\'=A1, or so"'),
        (SEMICOLONS, "fan.length", "3.25 m", "2,5 m", '"3,25 m"'),
        (SEMICOLONS, "fan.length", "3.125 m", "2,5 m", '"3,125 m"'),
    ],
)
def test_one_cell_and_no_other_byte(tmp_path: Path, table: str, field: str, value: object, old: str, new: str) -> None:
    assert changed(tmp_path, table, field, value) == table.replace(old, new)


def test_a_mark_at_the_beginning_stays(tmp_path: Path) -> None:
    assert changed(tmp_path, TABLE, "fan.fuse", "40 A", "utf-8-sig") == "\ufeff" + TABLE.replace("30 A", "40 A")


@pytest.mark.parametrize(
    ("field", "value", "code"),
    [
        ("fan.length", {"value": "3 m", "tol": "5 %"}, "utf-8"),
        ("fan.length", "3 kg", "utf-8"),  # no length
        ("fan.fuse", "40 A", "cp1252"),
        ("fan.fuse", "40 A", "utf-16"),
    ],
)
def test_what_cannot_be_put_there_is_left_to_the_person(tmp_path: Path, field: str, value: object, code: str) -> None:
    with pytest.raises(EditError, match=r"stands in .*cables\.csv, line 3.*change it there"):
        changed(tmp_path, TABLE.replace("left", "lëft"), field, value, code)


def test_what_stands_in_no_table(tmp_path: Path) -> None:
    with pytest.raises(EditError, match=r"does not stand in a table"):
        changed(tmp_path, TABLE, "starter.fuse", "20 A")  # an empty cell states nothing


def test_several_cells_at_once(tmp_path: Path) -> None:
    changed(tmp_path, TABLE, "fan.fuse", "30 A")
    spec = load_spec(str(tmp_path / "spec.toml"))
    changes = {path_key(f"{CABLES}.{name}.length"): length for name, length in (("fan", "3 m"), ("starter", "2.25 m"))}
    assert with_values(spec, changes)[1] == TABLE.replace('"2.5 m"', "3 m").replace("1.8", "2.25 m")


def test_many_changes_one_after_another(tmp_path: Path) -> None:
    dice = random.Random(2026)
    for table in (TABLE, SEMICOLONS):
        text = table
        for _ in range(60):
            field = dice.choice(["starter.length", "fan.length", "fan.fuse"])
            number = round(dice.uniform(1.0, 60.0), dice.choice([0, 1, 2]))
            text = changed(tmp_path, text, field, f"{number:g} {'A' if 'fuse' in field else 'm'}")
            (tmp_path / "cables.csv").write_bytes(text.encode())
            stated = load_spec(str(tmp_path / "spec.toml")).stated(f"{CABLES}.{field}")
            assert stated is not None
            assert stated.value == pytest.approx(number)
            assert text.count("\n") == table.count("\n")


def test_fill_changes_the_table(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    spec = f'[build]\nstage = "idea"\n[tables]\n"{CABLES}" = "cables.csv"\n'
    (tmp_path / "cables.csv").write_bytes(TABLE.encode())
    (tmp_path / "spec.toml").write_text(spec)
    assert main(["fill", str(tmp_path / "spec.toml"), f"{CABLES}.fan.length=3.5 m"]) == 0
    assert "cables.csv" in capsys.readouterr().out
    assert (tmp_path / "cables.csv").read_bytes() == TABLE.replace('"2.5 m"', "3.5 m").encode()
    assert (tmp_path / "spec.toml").read_text() == spec
    assert main(["fill", str(tmp_path / "spec.toml"), f"{CABLES}.fan.length=3 m ± 5 %"]) != 0
    assert "change it there" in capsys.readouterr().err.replace("\n", " ")
    assert (tmp_path / "cables.csv").read_bytes() == TABLE.replace('"2.5 m"', "3.5 m").encode()
    # what the table does not state goes into the spec
    assert main(["fill", str(tmp_path / "spec.toml"), f"{CABLES}.starter.fuse=40 A"]) == 0
    assert (tmp_path / "spec.toml").read_text().startswith(spec)
