"""`swaplint worksheet`, run as a user runs it."""

from __future__ import annotations

import io
import json
import re
from pathlib import Path

import pytest

import swaplint.inspecting.worksheet as computing
from swaplint.cli import main
from swaplint.host.packs import load_rule_base
from swaplint.kit.edits import sound_spec, sound_text
from swaplint.reports.json_report import dumps
from swaplint.reports.layout import write
from swaplint.reports.worksheet_text import worksheet_sheet
from swaplint.spec.systems import SYSTEMS

SPEC = """[build]
format = 1
name = "Bench rig (invented)"
stage = "plan"
design.cruise_speed = "80 km/h"

[vehicle]
mass.gvwr = "2800 kg"
aero.drag_coefficient = 0.45
aero.frontal_area = "2.8 m2"
rolling_resistance.road = 0.012

[engine]
speed.idle = { value = "800 r/min", tol = "25 r/min", basis = "catalogue" }

[driveline.gearbox]
ratios = [4.3, 2.6, 1.6, 1.15, 0.9]

[driveline.transfer]
high = 1.0
low = 2.5

[driveline.converter]
fitted = false

[driveline.axles.rear]
driven = true
ratio = 4.3

[driveline.tyres]
overall_diameter = "806 mm"
construction = "radial"
"""

PACK = '''"""A pack whose quantities show what can go wrong (invented)."""
from swaplint.api import INTERFACE, Build, OutsideRange, Pack, Practice, each_of, hookimpl, or_practice
from swaplint.api import practice, quantity

BENCH = practice("what the bench always did").giving("formula")
LOSS = Practice("bench loss of 200 r/min", 20.943951, BENCH)  # rad/s, = 200 · 2π/60


@quantity("gearing.bench-unlisted", "rotation", "r/min", formula="the idle speed", sources=[BENCH])
def unlisted(build: Build) -> float:
    """Idle speed, of a quantity that the pack does not list."""
    return build.engine.speed.idle


@quantity("gearing.bench-double", "rotation", "r/min", formula="2 · idle", sources=[BENCH])
def double(build: Build) -> float:
    """Twice the idle speed."""
    return 2 * unlisted(build)


@quantity("gearing.bench-loss", "rotation", "r/min", formula="loss of a shift", sources=[BENCH])
def loss(build: Build) -> float:
    """Speed lost in a shift."""
    return or_practice(lambda: build.driveline.gearbox.shift_speed_loss, LOSS)


@quantity("gearing.bench-axle", formula="ratio", sources=[BENCH], each=lambda b: each_of(b.driveline.axles))
def axle(build: Build, one: object) -> float:
    """Ratio of an axle."""
    return one.ratio


@quantity("gearing.bench-stall", formula="stall ratio", sources=[BENCH])
def stall(build: Build) -> float:
    """Stall ratio of the converter."""
    return build.driveline.converter.stall_ratio


@quantity("gearing.bench-beyond", formula="none", sources=[BENCH])
def beyond(build: Build) -> float:
    """What no formula holds for."""
    raise OutsideRange("the bench stops at 100")


@quantity("gearing.bench-none", formula="none", sources=[BENCH], each=lambda b: [])
def none(build: Build, one: object) -> float:
    """What the build has none of."""
    return 1.0


@quantity("gearing.bench-raises", formula="none", sources=[BENCH])
def raises(build: Build) -> float:
    """What divides by zero."""
    return 1 / 0


@quantity("gearing.bench-uses", formula="none", sources=[BENCH])
def uses(build: Build) -> float:
    """What uses the one that divides by zero."""
    return raises(build)


@quantity("gearing.bench-hangs", formula="none", sources=[BENCH])
def hangs(build: Build) -> float:
    """What never ends."""
    while True:
        pass


@quantity("gearing.bench-nonsense", formula="none", sources=[BENCH])
def nonsense(build: Build) -> float:
    """What gives a word."""
    return "many"


@hookimpl
def swaplint_pack() -> Pack:
    return Pack("bench", interface=INTERFACE, rules=[], quantities=[
        double, loss, axle, stall, beyond, none, raises, uses, hangs, nonsense])
'''

ANSI = re.compile(r"\x1b\[[0-9;]*m")


@pytest.fixture(autouse=True)
def _here(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    monkeypatch.delenv("COLUMNS", raising=False)
    Path("rig.toml").write_text(SPEC, encoding="utf-8")
    Path("bench.py").write_text(PACK, encoding="utf-8")
    Path("sound.toml").write_text(sound_text(), encoding="utf-8")


@pytest.fixture
def _short_limit(monkeypatch):
    """For calls with the pack above, of which one quantity never ends."""
    monkeypatch.setattr(computing, "RULE_SECONDS", 0.3)


def sheet_of(capsys, *arguments, status=0):
    assert main(["worksheet", *arguments, "--format", "json"]) == status
    return json.loads(capsys.readouterr().out)


def entry(data, id, subject=None):
    found = [q for q in data["quantities"] if q["id"] == id and q["subject"] == subject]
    assert len(found) == 1, f"{id} {subject}: {len(found)} entries"
    return found[0]


def line_of(text):
    return next(n for n, line in enumerate(SPEC.splitlines(), 1) if line.startswith(text))


def field(name, value, unit, line, written, basis=None, tol=None):
    """An input as the JSON must give it, its place read off the spec's text."""
    number = line_of(line)
    column = SPEC.splitlines()[number - 1].index(written) + 1
    return {
        "field": name,
        "value": pytest.approx(value, rel=1e-12),
        "unit": unit,
        "basis": basis,
        "tol": tol,
        "file": "rig.toml",
        "line": number,
        "column": column,
    }


# -- the numbers, by hand -------------------------------------------------------------------------------------------
# Rolling radius of a radial tyre r = 3.05·D/(2π), factor 3.05 of the ETRTO Standards Manual (from memory):
#   3.05 · 806 mm = 2458.3 mm of rolling circumference; / 6.283185307 = 391.2506 mm.
CIRCUMFERENCE = 2.4583  # m, = 3.05 · 0.806
RADIUS_MM = 391.2506


def test_cruise_rpm_by_hand(capsys):
    """Top ratio 0.9 · 1.0 · 4.3 = 3.87; 80 km/h = 22.22222 m/s.

    22.22222 · 3.87/2.4583 = 86.0/2.4583 = 34.983525 turns a second = 2099.0115 r/min.
    """
    found = entry(sheet_of(capsys, "rig.toml"), "gearing.cruise-rpm")
    assert found["value"] == pytest.approx(2099.0115, abs=0.001)
    assert found["unit"] == "r/min"
    assert found["inputs"] == [field("build.design.cruise_speed", 80, "km/h", "design.cruise_speed", '"80 km/h"')]
    assert found["uses"] == ["gearing.top-ratio", "gearing.rolling-radius"]
    assert found["terms"] == [
        {"id": "gearing.top-ratio", "subject": None, "value": pytest.approx(3.87), "unit": None},
        {"id": "gearing.rolling-radius", "subject": None, "value": pytest.approx(RADIUS_MM, abs=1e-3), "unit": "mm"},
    ]
    assert found["sources"] == [
        {
            "kind": "handbook",
            "title": "Gillespie, Fundamentals of Vehicle Dynamics",
            "clause": None,
            "known": "from memory",
            "gives": "formula",
            "what": None,
        }
    ]


def test_crawl_speed_by_hand(capsys):
    """Lowest ratio 4.3 · 2.5 · 4.3 = 46.225; 800 r/min = 13.33333 turns a second.

    13.33333 · 2.4583/46.225 = 32.777333/46.225 = 0.70908239 m/s = 2.5526966 km/h.
    """
    found = entry(sheet_of(capsys, "rig.toml"), "gearing.crawl-speed")
    assert found["value"] == pytest.approx(2.5526966, abs=1e-6)
    assert found["unit"] == "km/h"
    assert found["inputs"] == [
        field("engine.speed.idle", 800, "r/min", "speed.idle", "{ value", "catalogue", pytest.approx(25))
    ]
    assert found["terms"] == [
        {"id": "gearing.lowest-ratio", "subject": None, "value": pytest.approx(46.225), "unit": None},
        {"id": "gearing.rolling-radius", "subject": None, "value": pytest.approx(RADIUS_MM, abs=1e-3), "unit": "mm"},
    ]


def test_cruise_road_power_by_hand(capsys):
    """Standard gravity 9.80665 m/s² (CGPM 1901, ISO 80000-3); sea-level air 1.225 kg/m³ (ISO 2533).

    Rolling: 2800 · 9.80665 · 0.012 = 329.50344 N. v² = 22.22222² = 493.82716 m²/s².
    Air: 0.5 · 1.225 · 0.45 · 2.8 · 493.82716 = 0.77175 · 493.82716 = 381.11111 N.
    Together 710.61455 N; · 22.22222 m/s = 15791.434 W = 15.791434 kW.
    """
    found = entry(sheet_of(capsys, "rig.toml"), "gearing.cruise-road-power")
    assert found["value"] == pytest.approx(15.791434, rel=1e-5)  # the density is 1.225 to its last digit only
    assert found["unit"] == "kW"
    assert found["terms"] == []
    assert found["uses"] == []
    by_name = {one["field"]: one for one in found["inputs"]}
    assert by_name == {
        one["field"]: one
        for one in (
            field("vehicle.mass.gvwr", 2800, "kg", "mass.gvwr", '"2800'),
            field("vehicle.rolling_resistance.road", 0.012, None, "rolling_resistance.road", "0.012"),
            field("vehicle.aero.drag_coefficient", 0.45, None, "aero.drag_coefficient", "0.45"),
            field("vehicle.aero.frontal_area", 2.8, "m2", "aero.frontal_area", '"2.8'),
            field("build.design.cruise_speed", 80, "km/h", "design.cruise_speed", '"80'),
        )
    }


def test_what_rests_on_too_many_says_how_many_more(capsys, monkeypatch):
    whole = entry(sheet_of(capsys, "rig.toml"), "gearing.cruise-road-power")
    monkeypatch.setattr("swaplint.reports.worksheet_json.MOST_INPUTS", 2)
    data = sheet_of(capsys, "rig.toml")
    power, speed = entry(data, "gearing.cruise-road-power"), entry(data, "gearing.crawl-speed")
    assert len(whole["inputs"]) > 2
    assert whole["more_inputs"] == whole["more_terms"] == 0
    assert power["inputs"] == whole["inputs"][:2]
    assert power["more_inputs"] == len(whole["inputs"]) - 2
    assert (len(speed["terms"]), speed["more_terms"]) == (2, 0)


def test_parts_by_hand(capsys):
    """Overall ratios: each gear · 1.0 · 4.3; the gear itself is an input of its own line."""
    data = sheet_of(capsys, "rig.toml")
    for number, (gear, product) in enumerate([(4.3, 18.49), (2.6, 11.18), (1.6, 6.88), (1.15, 4.945), (0.9, 3.87)], 1):
        name = f"driveline.gearbox.ratios[{number}]"
        found = entry(data, "gearing.overall-ratio", name)
        assert found["value"] == pytest.approx(product)
        assert {one["field"]: one["value"] for one in found["inputs"]} == {name: gear, "driveline.transfer.high": 1.0}
        assert found["uses"] == ["gearing.axle-ratio"]


# -- direct inputs, order, gaps -------------------------------------------------------------------------------------
def test_only_direct_inputs_are_listed(capsys):
    """What the tyre diameter covers is not an input of the crawl speed: `uses` leads there."""
    found = entry(sheet_of(capsys, "rig.toml"), "gearing.rolling-radius")
    assert [one["field"] for one in found["inputs"]] == ["driveline.tyres.construction"]
    assert found["uses"] == ["gearing.tyre-diameter"]


def test_what_is_used_stands_above(capsys):
    data = sheet_of(capsys, "sound.toml")
    assert len(data["quantities"]) > 20
    place = {}
    for position, one in enumerate(data["quantities"]):
        place.setdefault(one["id"], position)
    systems = [SYSTEMS.index(one["id"].split(".")[0]) for one in data["quantities"]]
    assert systems == sorted(systems)
    below = [
        (one["id"], used)
        for one in data["quantities"]
        for used in one["uses"]
        if used != one["id"] and used.split(".")[0] == one["id"].split(".")[0] and place[used] > place[one["id"]]
    ]
    assert below == []


def test_every_quantity_is_somewhere(capsys):
    """Silence is not an answer: each quantity of the packs has a value or a reason."""
    for spec in ("rig.toml", "sound.toml"):
        data = sheet_of(capsys, spec)
        named = {one["id"] for key in ("quantities", "unknown", "out_of_range", "not_fitted") for one in data[key]}
        # An estimate is on the sheet only where its field is not stated.
    estimates = {quantity.id for _, quantity in load_rule_base().quantities if quantity.stands_in_for}
    assert named | estimates == {quantity.id for _, quantity in load_rule_base().quantities}


def test_all_unknown_fields_are_listed(capsys):
    """Without idle speed, ratios and tyre: all three are named, also those that only a used quantity reads."""
    text = SPEC.replace("ratios = [4.3, 2.6, 1.6, 1.15, 0.9]\n", "").replace('overall_diameter = "806 mm"\n', "")
    Path("gaps.toml").write_text(re.sub(r"speed\.idle.*\n", "", text), encoding="utf-8")
    data = sheet_of(capsys, "gaps.toml", "--system", "gearing")
    lacks = {one["id"]: one["fields"] for one in data["unknown"]}
    assert "engine.speed.idle" in lacks["gearing.crawl-speed"]
    assert "driveline.gearbox.ratios" in lacks["gearing.crawl-speed"]
    assert "driveline.tyres.overall_diameter" in lacks["gearing.crawl-speed"]
    assert lacks["gearing.tyre-diameter"] == ["driveline.tyres.overall_diameter"]
    # Nobody can say for which gears.
    assert [one for one in data["unknown"] if one["id"] == "gearing.overall-ratio"] == [
        {"id": "gearing.overall-ratio", "subject": None, "fields": ["driveline.gearbox.ratios"], "more_fields": 0}
    ]


@pytest.mark.usefixtures("_short_limit")
def test_a_missing_field_of_one_part_is_told_of_that_part(capsys):
    Path("two.toml").write_text(SPEC + "[driveline.axles.front]\ndriven = false\n", encoding="utf-8")
    data = sheet_of(capsys, "two.toml", "--pack", "bench.py", status=3)
    assert entry(data, "gearing.bench-axle", "driveline.axles.rear")["value"] == pytest.approx(4.3)
    assert [one for one in data["unknown"] if one["id"] == "gearing.bench-axle"] == [
        {
            "id": "gearing.bench-axle",
            "subject": "driveline.axles.front",
            "fields": ["driveline.axles.front.ratio"],
            "more_fields": 0,
        }
    ]


def test_outside_the_range_and_what_follows(capsys):
    """Driven axles of different ratios: no axle ratio, and none of what is computed from it."""
    Path("two.toml").write_text(SPEC + "[driveline.axles.front]\ndriven = true\nratio = 3.9\n", encoding="utf-8")
    data = sheet_of(capsys, "two.toml")
    why = {one["id"]: one["why"] for one in data["out_of_range"]}
    assert "the driven axles have different ratios" in why["gearing.axle-ratio"]
    assert why["gearing.crawl-speed"] == why["gearing.axle-ratio"]
    assert "gearing.axle-ratio" not in {one["id"] for one in data["quantities"]}


# -- packs that misbehave -------------------------------------------------------------------------------------------
@pytest.mark.usefixtures("_short_limit")
def test_what_breaks_costs_only_itself(capsys):
    assert main(["worksheet", "rig.toml", "--pack", "bench.py", "--format", "json"]) == 3
    captured = capsys.readouterr()
    data = json.loads(captured.out)
    ids = {one["id"] for one in data["quantities"]}
    assert "gearing.crawl-speed" in ids
    assert not ids & {"gearing.bench-raises", "gearing.bench-uses", "gearing.bench-hangs", "gearing.bench-nonsense"}
    errors = captured.err
    assert "gearing.bench-raises, gearing.bench-uses raised ZeroDivisionError" in errors
    assert "gearing.bench-hangs ran longer than 0.3 s and was stopped" in errors
    assert "gearing.bench-nonsense gave no number" in errors
    assert errors.count("ZeroDivisionError") == 1
    assert "Traceback" not in errors
    raised = next(p for p in data["problems"] if "ZeroDivisionError" in p["what"])
    assert raised["pack"] == "bench"
    assert "1 / 0" in PACK.splitlines()[raised["line"] - 1]
    assert {"id": "gearing.bench-stall", "subject": None, "why": "driveline.converter is not fitted"} in data[
        "not_fitted"
    ]
    assert {"id": "gearing.bench-none", "subject": None, "why": "nothing in this build has it"} in data["not_fitted"]
    assert {
        "id": "gearing.bench-beyond",
        "subject": None,
        "why": "the formula does not hold here: the bench stops at 100",
    } in data["out_of_range"]


@pytest.mark.usefixtures("_short_limit")
def test_unlisted_quantities_and_fallbacks(capsys):
    data = sheet_of(capsys, "rig.toml", "--pack", "bench.py", status=3)
    double = entry(data, "gearing.bench-double")
    assert [one["field"] for one in double["inputs"]] == ["engine.speed.idle"]  # so that it can be redone
    assert double["uses"] == []
    assert double["value"] == pytest.approx(1600)
    loss = entry(data, "gearing.bench-loss")
    assert loss["fallbacks"] == ["bench loss of 200 r/min"]
    assert loss["value"] == pytest.approx(200)


def test_a_pack_that_cannot_be_loaded(capsys):
    Path("bad.py").write_text("1 / 0\n", encoding="utf-8")
    assert main(["worksheet", "rig.toml", "--pack", "bad.py", "--format", "json"]) == 3
    captured = capsys.readouterr()
    assert "bad.py" in captured.err
    assert entry(json.loads(captured.out), "gearing.crawl-speed")


# -- the sheet as text ----------------------------------------------------------------------------------------------
def text_of(capsys, monkeypatch, columns, *arguments):
    monkeypatch.setenv("COLUMNS", str(columns))
    assert main(["worksheet", *arguments]) == 0
    return capsys.readouterr().out


def test_block_of_one_quantity(capsys, monkeypatch):
    text = text_of(capsys, monkeypatch, 80, "rig.toml", "--whole")
    block = text[text.index("Road speed at idle") :].split("\n\n")[0]
    line = line_of("speed.idle")
    assert block.splitlines() == [
        "Road speed at idle in the lowest gear of all ....................... 2.5527 km/h",
        "   gearing.crawl-speed",
        "   formula  v = n_idle · 2π·r/i_lowest",
        "   from     gearing.lowest-ratio = 46.225 ................................ above",
        "            gearing.rolling-radius = 391.25 mm ........................... above",
        f"   with     engine.speed.idle = 800 r/min ± 25 r/min (catalogue) ....... line {line}",
        "   source   kinematics of a rolling wheel behind a gear train (common practice)",
    ]


def test_block_of_parts(capsys, monkeypatch):
    text = text_of(capsys, monkeypatch, 80, "rig.toml", "--whole")
    block = text[text.index("Engine turns for one turn") :].split("\n\n")[0]
    assert block.splitlines() == [
        "Engine turns for one turn of the wheels, high range",
        "   gearing.overall-ratio",
        "   formula  i = i_gear · i_transfer,high · i_axle",
        "   from     gearing.axle-ratio = 4.3 ..................................... above",
        f"   with     driveline.gearbox.ratios = 4.3, 2.6, 1.6, 1.15, 0.9 ........ line {line_of('ratios')}",
        f"            driveline.transfer.high = 1.0 .............................. line {line_of('high')}",
        "   for      driveline.gearbox.ratios[1] = 4.3 ............................ 18.49",
        "            driveline.gearbox.ratios[2] = 2.6 ............................ 11.18",
        "            driveline.gearbox.ratios[3] = 1.6 ............................. 6.88",
        "            driveline.gearbox.ratios[4] = 1.15 ........................... 4.945",
        "            driveline.gearbox.ratios[5] = 0.9 ............................. 3.87",
        "   source   kinematics of a rolling wheel behind a gear train (common practice)",
    ]


def test_what_is_not_known_is_told(capsys, monkeypatch):
    text = text_of(capsys, monkeypatch, 100, "rig.toml", "--system", "gearing", "--whole")
    assert "Asked for only: gearing." in text
    assert "NOT KNOWN YET (" in text
    assert "   gearing.launch-torque\n   lacks    engine.torque.launch, driveline.gearbox.kind\n" in text
    assert "This is a planning aid." in text


@pytest.mark.parametrize("columns", [60, 80, 140])
@pytest.mark.parametrize("spec", ["rig.toml", "sound.toml"])
@pytest.mark.parametrize("more", [[], ["--whole"], ["gearing.crawl-speed", "gearing.cruise-rpm"]], ids=len)
def test_no_line_is_wider_than_the_terminal(capsys, monkeypatch, columns, spec, more):
    text = text_of(capsys, monkeypatch, columns, spec, *more)
    assert [line for line in text.splitlines() if len(line) > columns] == []


@pytest.mark.parametrize("columns", [80, 140])
def test_colour_changes_no_letter(columns):
    class Terminal(io.StringIO):
        def isatty(self):
            return True

    base = load_rule_base()
    sheet = worksheet_sheet(computing.worksheet(base, sound_spec(base)), columns)
    terminal, pipe = Terminal(), io.StringIO()
    with pytest.MonkeyPatch.context() as patch:
        patch.delenv("NO_COLOR", raising=False)
        patch.setenv("TERM", "xterm-256color")
        write(sheet, terminal)
    write(sheet, pipe)
    assert "\x1b[" in terminal.getvalue()
    bare = ANSI.sub("", terminal.getvalue())
    assert [line.rstrip() for line in bare.splitlines()] == pipe.getvalue().splitlines()


@pytest.mark.parametrize("form", ["text", "json"])
def test_hostile_text_cannot_steer_the_terminal(capsys, form):
    hostile = SPEC.replace("Bench rig", r"Bench \u009B31m\u202Erig").replace(
        "[driveline.tyres]", '[driveline.tyres]\nspeed_symbol = "Q\\u0085\\u009B2J"'
    )
    Path("hostile.toml").write_text(hostile, encoding="utf-8")
    main(["worksheet", "hostile.toml", "--format", form])
    captured = capsys.readouterr()
    out = captured.out + captured.err
    assert out
    assert [c for c in out if not c.isprintable() and c != "\n"] == []


def test_json_escapes_what_is_not_printable():
    text = "a\u009bb\u202ec\U000e0001d\x7f"
    written = dumps({"text": text})
    assert json.loads(written) == {"text": text}
    assert all(c.isprintable() or c == "\n" for c in written)


# -- the call -------------------------------------------------------------------------------------------------------
def test_one_system_only(capsys):
    data = sheet_of(capsys, "sound.toml", "--system", "gearing", "--system", "mass")
    systems = {one["id"].split(".")[0] for key in ("quantities", "unknown", "not_fitted") for one in data[key]}
    assert systems <= {"gearing", "mass"}
    assert "gearing" in systems


def test_a_wrong_system_is_named(capsys):
    assert main(["worksheet", "rig.toml", "--system", "gearin"]) == 2
    captured = capsys.readouterr()
    assert captured.out == ""
    assert "'gearin' is not a system; did you mean 'gearing'?" in captured.err


def test_what_a_rule_reads(capsys):
    """How slowly it crawls hangs on idle speed, lowest ratio and tyre, and on what those are computed from."""
    data = sheet_of(capsys, "rig.toml", "--rule", "gearing.crawl")
    assert {one["id"] for one in data["quantities"]} == {
        "gearing.crawl-speed",
        "gearing.lowest-ratio",
        "gearing.rolling-radius",
        "gearing.tyre-diameter",
        "gearing.axle-ratio",
    }
    Path("empty.toml").write_text("", encoding="utf-8")
    asked = sheet_of(capsys, "empty.toml", "--rule", "gearing.crawl")
    assert {one["id"] for one in asked["unknown"]} == {one["id"] for one in data["quantities"]}


# -- one number and all beneath it ----------------------------------------------------------------------------------
def test_a_calculation_to_follow_with_a_pencil(capsys, monkeypatch):
    text = text_of(capsys, monkeypatch, 80, "rig.toml", "gearing.crawl-speed")
    start = text.index("Road speed at idle")
    shown = text[start:].splitlines()
    assert shown[:8] == [
        "Road speed at idle in the lowest gear of all",
        "   formula  v = n_idle · 2π·r/i_lowest",
        "   numbers  v = (800 r/min) · 2π·(391.25 mm)/46.225",
        f"   with     engine.speed.idle = 800 r/min ± 25 r/min (catalogue) ....... line {line_of('speed.idle')}",
        "            gearing.lowest-ratio = 46.225 ................................ below",
        "            gearing.rolling-radius = 391.25 mm ........................... below",
        "   gives    gearing.crawl-speed = 2.5527 km/h",
        "   source   kinematics of a rolling wheel behind a gear train (common practice)",
    ]
    # Depth first: what the lowest ratio is computed from stands before the tyre; each is one step further in.
    steps = [(line, len(line) - len(line.lstrip())) for line in shown if " gives " in line]
    assert [(line.split("gives")[1].split("=")[0].strip(), step) for line, step in steps] == [
        ("gearing.crawl-speed", 3),
        ("gearing.lowest-ratio", 6),
        ("gearing.axle-ratio", 9),
        ("gearing.rolling-radius", 6),
        ("gearing.tyre-diameter", 9),
    ]
    assert re.search(rf"driveline.transfer.low = 2.5 \.+ line {line_of('low')}$", text, re.MULTILINE)


def test_a_number_that_is_used_twice_is_written_once(capsys, monkeypatch):
    text = text_of(capsys, monkeypatch, 100, "rig.toml", "gearing.cruise-rpm", "gearing.crawl-speed")
    assert text.count("gives    gearing.rolling-radius =") == 1
    assert "gearing.rolling-radius = 391.25 mm" in text[text.index("GEARING.CRAWL-SPEED") :]
    assert "... above" in text[text.index("GEARING.CRAWL-SPEED") :]


def test_a_number_for_each_part_and_one_that_is_not_known(capsys, monkeypatch):
    text = text_of(capsys, monkeypatch, 100, "rig.toml", "gearing.overall-ratio", "gearing.launch-torque")
    assert [float(value) for value in re.findall(r"gearing.overall-ratio = ([\d.]+)$", text, re.MULTILINE)] == [
        18.49,
        11.18,
        6.88,
        4.945,
        3.87,
    ]
    assert ": not known yet\n" in text
    assert "   lacks    engine.torque.launch, driveline.gearbox.kind\n" in text


def test_the_json_of_one_number_holds_all_beneath_it(capsys):
    data = sheet_of(capsys, "rig.toml", "gearing.rolling-radius")
    assert [one["id"] for one in data["quantities"]] == ["gearing.tyre-diameter", "gearing.rolling-radius"]
    whole = sheet_of(capsys, "rig.toml")
    assert [one for one in data["quantities"] if one not in whole["quantities"]] == []


@pytest.mark.parametrize(
    ("arguments", "says"),
    [
        (["gearing.crawl-sped"], "no quantity is called 'gearing.crawl-sped'; did you mean 'gearing.crawl-speed'?"),
        (["gearing.crawl"], "'gearing.crawl' is a rule, and no quantity: --rule gearing.crawl lists the quantities"),
        (["gearing"], "'gearing' is a system, and no quantity: --system gearing lists its quantities."),
        (["gearing.crawl-speed", "--system", "mass"], "name numbers by their ids, or choose by --system and --rule"),
        (["gearing.crawl-speed", "--whole"], "a number that is named by its id is shown whole"),
        (["--whole", "--format", "json"], "--format json holds everything as it is"),
    ],
)
def test_numbers_that_there_are_not(capsys, arguments, says):
    assert main(["worksheet", "rig.toml", *arguments]) == 2
    captured = capsys.readouterr()
    assert captured.out == ""
    assert says in captured.err
    assert captured.err.endswith(" See 'swaplint worksheet --help'.\n")


# -- the results alone ----------------------------------------------------------------------------------------------
def test_results_only_with_the_way_to_more(capsys, monkeypatch):
    text = text_of(capsys, monkeypatch, 100, "rig.toml", "--system", "gearing")
    assert re.search(r"^gearing.crawl-speed +Road speed at idle in the lowest gear of all \.+ 2.5527 km/h$", text, re.M)
    assert re.search(r"^ +driveline.gearbox.ratios\[2\] \.+ 11.18$", text, re.M)
    assert "formula" not in text.split("One number")[0].replace("outside the range of their formula", "")
    assert "line " not in text
    gaps = text[text.index("NOT KNOWN YET (") : text.index("One number and all beneath it")]
    assert "gearing.launch-torque" in gaps
    (named,) = re.findall(r"swaplint worksheet rig.toml (gearing[\w.-]+)$", text, re.M)
    assert f"gives    {named} =" in text_of(capsys, monkeypatch, 100, "rig.toml", named)
    assert "swaplint worksheet rig.toml --whole" in text


def test_a_spec_that_cannot_be_read(capsys):
    Path("wrong.toml").write_text(SPEC.replace('"806 mm"', '"806 kg"'), encoding="utf-8")
    assert main(["worksheet", "wrong.toml", "--format", "json"]) == 2
    captured = capsys.readouterr()
    assert captured.out == ""
    assert f"wrong.toml, line {line_of('overall_diameter')}" in captured.err
    assert main(["worksheet", "missing.toml"]) == 2


def test_output_is_whole_or_not_at_all(capsys):
    Path("old.json").write_text("before", encoding="utf-8")
    assert main(["worksheet", "rig.toml", "--format", "json", "--output", "old.json"]) == 0
    assert capsys.readouterr().out == ""
    assert json.loads(Path("old.json").read_text(encoding="utf-8"))["spec"] == "rig.toml"
    assert main(["worksheet", "rig.toml", "--output", "no-such-folder/sheet.txt"]) == 2
    captured = capsys.readouterr()
    assert captured.out == ""
    assert "no-such-folder/sheet.txt: cannot be written" in captured.err
    assert main(["worksheet", "rig.toml", "--output", "sheet.txt"]) == 0
    assert main(["worksheet", "rig.toml"]) == 0
    assert Path("sheet.txt").read_text(encoding="utf-8") == capsys.readouterr().out
    assert [p.name for p in Path().iterdir() if p.name.startswith(".")] == []


def test_a_calculation_has_the_numbers_in_place_of_the_symbols(capsys):
    assert (
        main(["worksheet", str(Path(__file__).parents[2] / "specs" / "tarnholt-tender.toml"), "fuel.supply-velocity"])
        == 0
    )
    text = " ".join(capsys.readouterr().out.split())
    # by hand: 130 L/h through a bore of 10 mm: 130e-3/3600/(π/4·0.01²) = 0.45978 m/s
    assert "formula v = Q/(π/4·D²) numbers v = (130 L/h)/(π/4·(10 mm)²) with" in text
    assert "gives fuel.supply-velocity = 0.45978 m/s" in text
    assert (
        main(["worksheet", str(Path(__file__).parents[2] / "specs" / "tarnholt-tender.toml"), "gearing.crawl-speed"])
        == 0
    )
    text = " ".join(capsys.readouterr().out.split())
    # 750 r/min · 2π · 0.49999 m/61.215 = 78.54 rad/s · 0.49999 m/61.215 = 0.6415 m/s = 2.3094 km/h
    assert "numbers v = (750 r/min) · 2π·(499.99 mm)/61.215 with" in text
    assert "gives gearing.crawl-speed = 2.3094 km/h" in text


def test_each_symbol_of_a_formula_stands_for_something_that_there_is() -> None:
    from swaplint.kit.trial import rule_base
    from swaplint.spec.shape import every_field

    base = rule_base()
    known = {path for path, _ in every_field(base.model)} | {quantity.id for _, quantity in base.quantities}
    named = {meaning for _, quantity in base.quantities for meaning in quantity.symbols.values()}
    assert len(named) > 30
    assert named <= known


def test_an_id_may_stand_behind_an_option(capsys):
    assert main(["worksheet", "rig.toml", "--units", "metric", "gearing.cruise-rpm", "gearing.top-ratio"]) == 0
    behind = capsys.readouterr().out
    assert main(["worksheet", "rig.toml", "gearing.cruise-rpm", "gearing.top-ratio", "--units", "metric"]) == 0
    assert capsys.readouterr().out == behind
    assert "GEARING.TOP-RATIO" in behind
    assert main(["worksheet", "rig.toml", "--units", "metric", "--wrong", "gearing.cruise-rpm"]) == 2
    assert "--wrong" in capsys.readouterr().err
    assert main(["schema", "--output", "x.json", "gearing.cruise-rpm"]) == 2
    assert "gearing.cruise-rpm" in capsys.readouterr().err
