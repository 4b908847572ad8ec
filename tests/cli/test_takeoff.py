"""`swaplint takeoff`, run as a user runs it."""

from __future__ import annotations

import csv
import json
import tomllib
from pathlib import Path
from typing import Any

import pytest
from calling import Ran, call

SPEC = """[build]
name = "Bench rig (invented)"
stage = "plan"
[driveline.axles.rear]
ratio = 4.3
[electrics.cables.cab]
role = "cab-feed"
start = "battery-positive"
end = "cab-fuses"
size = "10 mm2"
length = { value = "4.2 m", basis = "assumed" }
fuse = "60 A"
returns_by = "frame"
[electrics.grounds.engine]
start = "engine"
end = "battery-negative"
size = "10 mm2"
length = "0.6 m"
[electrics.openings.bulkhead]
hole = "60 mm"
[[supply]]
item = "=1+1"
by = "shop"
functions = ["exhaust-pipes"]
price = 200
"""


@pytest.fixture
def spec(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> str:
    """A small spec of a plan."""
    monkeypatch.setenv("COLUMNS", "80")
    path = tmp_path / "rig.toml"
    path.write_text(SPEC, encoding="utf-8")
    return str(path)


def text_of(ran: Ran) -> str:
    assert ran.status == 0, ran.err.decode()
    return ran.out.decode()


def test_the_sheet_hangs_on_the_wall(spec: str) -> None:
    text = text_of(call("takeoff", spec))
    lines = text.splitlines()
    assert max(map(len, lines)) <= 80
    assert "!1 cab             battery-positive to cab-fuses  10 mm²  4.2 m  4.83 m       2" in lines
    assert "   ground, engine  engine to battery-negative     10 mm²  0.6 m  0.69 m       2" in lines
    assert "   size 10 mm² .......................................................... 5.52 m" in lines
    assert "!1 assumed: electrics.cables.cab.length" in lines
    assert "?  bulkhead: grommet and electrics.routes" in lines
    assert "settle what the note of that number names before you cut" in " ".join(lines)
    assert "cable, hose and pipe are cut 15 % longer than they run" in " ".join(text.split())
    assert "Gaps to keep: vehicle.clearances" in lines


def test_inches_and_feet(spec: str) -> None:
    text = text_of(call("takeoff", spec, "--units", "inch-pound"))
    # 4.2 m are 13.78 ft, and 15 % more 15.85 ft
    assert "13.78 ft  15.8 ft" in text
    assert "10 mm² (8 to 6 AWG)" in text


def test_the_table_for_ordering(spec: str, tmp_path: Path) -> None:
    rows = list(csv.DictReader(text_of(call("takeoff", spec, "--format", "csv")).splitlines()))
    (cable,) = [row for row in rows if row["list"] == "Cables to cut"]
    assert (cable["what"], cable["amount"], cable["unit"], cable["rows"]) == ("size 10 mm²", "5.52", "m", "2")
    assert cable["for"] == "cab; ground, engine"
    assert cable["may still change"] == "assumed: electrics.cables.cab.length"
    shop = [row["what"] for row in rows if row["by"] == "shop"]
    assert shop == ["'=1+1"], "no spreadsheet takes it for a formula"
    file = tmp_path / "order.csv"
    assert call("takeoff", spec, "--format", "csv", "-o", str(file)).status == 0
    assert file.read_bytes().startswith(b"\xef\xbb\xbflist,what"), "a spreadsheet knows the code page by the mark"


def test_the_data(spec: str) -> None:
    data: Any = json.loads(text_of(call("takeoff", spec, "--format", "json", "--units", "inch-pound")))
    assert list(data) == ["format", "tool", "spec", "stage", "files", "lists", "problems"]
    cab, ground = data["lists"]["cables"]["rows"]
    assert cab["part"] == "electrics.cables.cab"
    assert cab["cells"]["to_cut"] == {
        "value": 4.83,
        "unit": "m",
        "from": "power.cable-to-cut",
        "unknown": [],
        "why": None,
    }
    assert cab["doubts"] == [{"why": "assumed", "about": "electrics.cables.cab.length"}]
    assert ground["doubts"] == []
    (together,) = data["lists"]["cables"]["together"]
    assert together["amount"]["value"] == 5.52
    assert data["lists"]["gaps"]["unknown"] == [
        {"listing": "mounts.gaps", "fields": ["vehicle.clearances"], "why": None}
    ]


def test_a_spec_that_states_nothing(tmp_path: Path) -> None:
    path = tmp_path / "empty.toml"
    path.write_text("", encoding="utf-8")
    text = text_of(call("takeoff", str(path)))
    assert "NOT KNOWN YET" in text
    assert "Cables to cut: electrics.cables, electrics.grounds and electrics.network" in text
    rows = list(csv.DictReader(text_of(call("takeoff", str(path), "--format", "csv")).splitlines()))
    assert {row["list"] for row in rows} == {"Fluids"}, "coolant is all that is sure"
    assert all(row["amount"] == "" and row["not known"] for row in rows)


def test_the_cable_of_the_tender_reckoned_from_the_file() -> None:
    """From the file as TOML holds it: each cable, each ground, each return of its own, 15 % more, by size."""
    electrics = tomllib.loads(Path("specs/tarnholt-tender.toml").read_text(encoding="utf-8"))["electrics"]
    cables = list(electrics["cables"].values())
    returns = [one for one in cables if one.get("returns_by") == "own-conductor"]
    assert not any("return_size" in one for one in returns)
    runs = [(one["size"], one["length"]) for one in [*cables, *electrics["grounds"].values()]]
    runs += [(one["size"], one["return_length"]) for one in returns]
    by_hand: dict[str, float] = {}
    for size, length in runs:
        number, unit = length.split()
        assert unit == "m"
        name = f"size {size.removesuffix(' mm2')} mm²"
        by_hand[name] = by_hand.get(name, 0.0) + 1.15 * float(number)
    rows = csv.DictReader(text_of(call("takeoff", "specs/tarnholt-tender.toml", "--format", "csv")).splitlines())
    found = {
        row["what"]: float(row["amount"]) for row in rows if row["list"] == "Cables to cut" and "size" in row["what"]
    }
    assert found == pytest.approx(by_hand, rel=1e-5)


def test_an_idea_is_one_screenful(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("COLUMNS", "80")
    assert len(text_of(call("takeoff", "specs/day-one-idea.toml")).splitlines()) <= 40


HOSTILE = ("@SUM(A1)", "-2+3 mm", "+cmd|x", 'a ""quote"", and; more', "x" * 400, "\u202egnp.exe", "=1")


def test_hostile_names(tmp_path: Path) -> None:
    path = tmp_path / "hostile.toml"
    lines = [f"[[supply]]\nitem = '{item}'\nby = \"shop\"\nfunctions = []" for item in HOSTILE]
    path.write_text('[build]\nname = "rig"\n' + "\n".join(lines), encoding="utf-8")
    table = list(csv.reader(text_of(call("takeoff", str(path), "--format", "csv")).splitlines()))
    assert [cell for row in table for cell in row if cell.startswith(("=", "@", "+", "-"))] == []
    assert len([row for row in table if row[0] == "Parts to get"]) == len(HOSTILE)
    data = json.loads(text_of(call("takeoff", str(path), "--format", "json")))
    assert [row["cells"]["what"]["value"] for row in data["lists"]["parts"]["rows"]] == list(HOSTILE)
    assert all(line.isprintable() for line in text_of(call("takeoff", str(path))).splitlines())


def test_what_cannot_be_read() -> None:
    ran = call("takeoff", "there-is-none.toml")
    assert (ran.status, ran.out) == (2, b"")
    assert b"there-is-none.toml" in ran.err
