"""What a place asks, as a user meets it: places of one's own, what was read and what is remembered, broken sheets."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
import swaplint_rules.compliance
from calling import call

RULES = ("--rule", "compliance.emission-certificate", "--rule", "compliance.engine-age")
SPEC = """[build]
stage = "quote"
judged_on = 2026-06-15
[build.places.club]
sheet = "club.place.toml"
[vehicle]
weight_class = "light"
first_registered = 2001
[engine.certificate]
use = "{use}"
model_year = {year}
road_use = "yes"
"""
CLUB = """name = "Example club (invented)"
authority = "the club's inspector"
checked = 2026-06-01
documents.rules = {{ title = "Club rules (invented)", edition = "2026" }}
[certificates]
light_vehicle = ["light-duty-road"]
known = "{known}"
document = "rules"
[engine_age]
basis = "model-year"
against = "first-registration"
known = "{known}"
document = "rules"
"""
QUOTES = {"sound": ("light-duty-road", 2001), "off-road": ("off-road", 2020), "too-old": ("light-duty-road", 2000)}


@pytest.fixture
def quotes(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(tmp_path)
    (tmp_path / "law").mkdir()
    (tmp_path / "quotes").mkdir()
    for name, (use, year) in QUOTES.items():
        (tmp_path / "quotes" / f"{name}.toml").write_text(SPEC.format(use=use, year=year), encoding="utf-8")
    club(tmp_path, CLUB.format(known="read"))
    return tmp_path


def club(folder: Path, text: str) -> None:
    (folder / "law" / "club.place.toml").write_text(text, encoding="utf-8")


def test_quotes_are_gated_by_a_club_s_own_place(quotes: Path) -> None:
    done = call("inspect", "quotes", "--sheets", "law", *RULES, "--format", "json")
    specs = {spec["spec"]: spec for spec in json.loads(done.out)["specs"]}
    assert {name: spec["gate"]["shut_by"] for name, spec in specs.items()} == {
        "quotes/off-road.toml": ["compliance.emission-certificate"],
        "quotes/sound.toml": [],
        "quotes/too-old.toml": ["compliance.engine-age"],
    }
    (old,) = [r for r in specs["quotes/too-old.toml"]["results"] if r["kind"] == "fail"]
    assert old["message"] == (
        "The engine is certified for model year 2000, and the vehicle counts as one of 2001: Example club (invented) "
        "takes none older than 2001. See Club rules (invented), 2026. Ask the club's inspector."
    )
    assert (old["found"]["value"], old["limit"]["value"]) == (2000, 2001)
    assert old["sources"][0] | {"what": None} == {
        "kind": "regulation",
        "title": "Club rules (invented), 2026",
        "clause": None,
        "known": "published",
        "gives": "limit",
        "what": None,
    }
    assert any("no legal advice" in caution for caution in old["cautions"])
    assert done.status == 1


@pytest.mark.parametrize(("known", "kinds", "open"), [("quoted", ["review"], True), ("memory", ["open"], False)])
def test_what_was_not_read_shuts_no_gate_by_failing(quotes: Path, known: str, kinds: list[str], open: bool) -> None:
    club(quotes, CLUB.format(known=known))
    done = call(
        "inspect", "quotes/too-old.toml", "--sheets", "law", "--rule", "compliance.engine-age", "--format", "json"
    )
    (spec,) = json.loads(done.out)["specs"]
    assert [result["kind"] for result in spec["results"]] == kinds
    assert spec["gate"]["open"] is open


@pytest.mark.parametrize(
    ("text", "says"),
    [
        (CLUB.replace("{known}", "rumour"), "'rumour' is not one of read, older, quoted, memory, invented"),
        (CLUB.replace("basis =", "bassis =").replace("{known}", "read"), "did you mean 'basis'"),
        (CLUB.replace('["light-duty-road"]', '["anything"]').replace("{known}", "read"), "'anything' is not one of"),
        ("certificates = 3\n", "certificates"),
        ("[approvals.x]\nfor_any = 'brakes'\n", "takes a list"),
        ("[[documents]]\n", "documents"),
        ("name = ", "is not valid TOML"),
        ("checked = 2026-13-45\n", "club.place.toml"),
    ],
)
def test_a_broken_sheet_is_told_in_a_sentence_with_its_place(quotes: Path, text: str, says: str) -> None:
    club(quotes, text.replace("{{", "{").replace("}}", "}"))
    done = call("inspect", "quotes/sound.toml", "--sheets", "law", *RULES)
    assert done.status == 2
    assert "law/club.place.toml, line" in done.err.decode() + done.out.decode()
    assert says in done.err.decode() + done.out.decode()
    assert "Traceback" not in done.err.decode()


def test_a_place_outside_the_folders_is_not_read(quotes: Path) -> None:
    done = call("inspect", "quotes/sound.toml", *RULES)
    assert done.status == 2
    assert "there is no data sheet 'club.place.toml' in the spec's folder" in done.err.decode()
    (quotes / "quotes" / "out.toml").write_text('[build.places.x]\nsheet = "../law/club.place.toml"\n')
    assert "lies outside the spec's folder" in call("inspect", "quotes/out.toml", *RULES).err.decode()


def test_sheets_that_come_with_a_pack_are_never_written(quotes: Path) -> None:
    sheet = Path(swaplint_rules.compliance.__file__).parent / "places" / "no.place.toml"
    before = sheet.read_bytes(), sheet.stat().st_mtime_ns
    (quotes / "norway.toml").write_text('[build.places.norway]\nsheet = "no.place.toml"\n', encoding="utf-8")
    assert call("upgrade", "norway.toml", "--sheets-too").status == 0
    assert (sheet.read_bytes(), sheet.stat().st_mtime_ns) == before
