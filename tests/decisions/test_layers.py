"""A build in several files: its parts in tables, and a variant that states only what is other."""

from __future__ import annotations

import json
import tomllib
from pathlib import Path
from typing import Any

import pytest
import tomli_w

from swaplint.cli import main
from tests.spec.as_tables import as_table

TENDER = Path(__file__).parents[2] / "specs" / "tarnholt-tender.toml"
IN_TABLES = {
    "electrics.cables": "cables.csv",
    "electrics.loads": "loads.csv",
    "vehicle.ledger": "ledger.csv",
    "supply": "supply.csv",
}


def report(capsys: pytest.CaptureFixture[str], *arguments: str) -> Any:
    main(["inspect", "--no-remedies", "--sheets", str(TENDER.parent), *arguments])
    return json.loads(capsys.readouterr().out)


@pytest.fixture
def tabled(tmp_path: Path) -> Path:
    """The tender, its cables, consumers, mass ledger and scope of supply in tables."""
    data = tomllib.loads(TENDER.read_text())
    for path, name in IN_TABLES.items():
        *above, last = path.split(".")
        node = data
        for key in above:
            node = node[key]
        (tmp_path / name).write_text(as_table(node.pop(last)), newline="")
    (tmp_path / "tender.toml").write_text(tomli_w.dumps({**data, "tables": IN_TABLES}))
    return tmp_path / "tender.toml"


def _without_places(results: list[dict[str, Any]]) -> list[dict[str, Any]]:
    for result in results:
        for read in result["inputs"]:
            read["file"] = read["line"] = read["column"] = None
    return results


def test_the_tender_in_tables_has_the_same_results(tabled: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (whole,) = report(capsys, str(TENDER), "--format", "json")["specs"]
    (parted,) = report(capsys, str(tabled), "--format", "json")["specs"]
    cells = [read for result in parted["results"] for read in result["inputs"] if read["file"].endswith(".csv")]
    assert {Path(read["file"]).name for read in cells} == set(IN_TABLES.values())
    assert min(read["line"] for read in cells) == 2
    assert {Path(file["file"]).name for file in parted["files"]} >= set(IN_TABLES.values())
    for spec in (whole, parted):
        _without_places(spec["results"])
        del spec["files"], spec["spec"]
    assert parted == whole


def test_places_in_tables_reach_sarif(tabled: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (run,) = report(capsys, str(tabled), "--format", "sarif", "--system", "power")["runs"]
    written = {Path(one["location"]["uri"]).name: one for one in run["artifacts"]}
    assert written["cables.csv"]["mimeType"] == "text/csv"
    assert written["cables.csv"]["encoding"] == "UTF-8"
    places = [one["physicalLocation"] for result in run["results"] for one in result.get("relatedLocations", ())]
    cells = [place["region"] for place in places if place["artifactLocation"]["uri"].endswith("cables.csv")]
    assert cells
    assert all(region["startLine"] >= 2 for region in cells)


def test_a_variant_is_five_lines(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """What changes with another final drive and tyre, and nothing else: as if they were written into the tender."""
    text = TENDER.read_text()
    (tmp_path / "tender.toml").write_text(text)
    variant = """[build]
base = "tender.toml"
stage = "quote"
[driveline]
axles = { front = { ratio = 3.9 }, rear = { ratio = 3.9 } }
"""
    (tmp_path / "variant.toml").write_text(variant)
    data = tomllib.loads(text)
    for axle in data["driveline"]["axles"].values():
        axle["ratio"] = 3.9
    (tmp_path / "whole.toml").write_text(tomli_w.dumps(data))
    same, other = report(capsys, str(tmp_path / "variant.toml"), str(tmp_path / "whole.toml"), "--format", "json")[
        "specs"
    ]
    bases = [read for result in same["results"] for read in result["inputs"] if read["file"].endswith("tender.toml")]
    assert bases
    for spec in (same, other):
        _without_places(spec["results"])
        del spec["files"], spec["spec"]
    assert same == other
