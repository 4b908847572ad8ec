"""`swaplint rulebook`, run as a user runs it."""

from __future__ import annotations

import json
import re
from pathlib import Path
from typing import get_args

import pytest

from swaplint.cli import main
from swaplint.declare.sources import Known
from swaplint.host.packs import load_rule_base
from swaplint.kit.edits import sound_spec
from swaplint.reports.json_report import dumps
from swaplint.reports.layout import plain
from swaplint.reports.naming import KNOWN_WORDS
from swaplint.reports.rulebook_json import page_json
from swaplint.reports.rulebook_markdown import page_markdown
from swaplint.reports.rulebook_page import page_of
from swaplint.reports.rulebook_text import page_sheet
from swaplint.spec.systems import SYSTEMS

PACK = '''"""A pack with one sound rule, one rule that raises and one that says strange things (invented)."""
from swaplint.api import INTERFACE, Build, Pack, Practice, Verdict, at_least, hookimpl, or_practice, practice, rule
from swaplint.api import book, quantity, sheet, standard

BENCH = practice("what the bench always did")
FLOOR = Practice("idle of at least 700 r/min", 73.3, BENCH, review=True)
LIMIT = BENCH.giving("limit", "idle speed on the bench")
SHARE = Practice("an eighth of rated speed", 0.125, book("Example tables (invented)", known="second-hand"))


@quantity(
    "controls.bench-turns",
    "rotation",
    "r/min",
    formula="n = n_idle",
    sources=[book("Example sums (invented)", "eq. 3", known="published").giving("formula", "speed of a shaft")],
    instead={"engine.speed.rated": "engine.speed.idle"},
)
def bench_turns(build: Build) -> float:
    """Idle speed on the bench."""
    return build.engine.speed.idle


@rule(
    "controls.bench-idle",
    level="note",
    due="commission",
    sources=[
        standard("Example standard (invented)", "clause 4", known="published").giving("limit", "least idle speed"),
        book("Example book (invented)", known="second-hand").giving("formula"),
        sheet("engine.speed.rated"),
        book("Example almanac (invented)").giving("formula", "speed of a belt"),
    ],
    cautions=["Mind the bench."],
    fallbacks=[FLOOR, SHARE],
    adjust=["electrics.nominal_voltage", "engine.speed.idle"],
    bad=[{"engine.speed.idle": "500 r/min", "driveline.tyres": None}],
    good=[{"engine.speed.idle": "900 r/min"}, {"driveline.gearbox.kind": "automatic"}],
    aliases=["controls.old-idle", "controls.older-idle"],
    changed={"1.2": "Takes an automatic gearbox by its own idle.", "1.10": "Allows half of the cruising speed"},
    without={"engine.speed.cruise_low": "A bench runs at idle, whatever the engine cruises at."},
)
def bench_idle(build: Build) -> Verdict:
    """Does it idle fast enough for the bench?

    Computes: nothing.
    Limit: the bench's own.
    Consequence: it stalls when the pump cuts in.
    Remedy: turn it up.
    Cannot tell: why.
    """
    if build.driveline.gearbox.kind == "automatic":
        return at_least(bench_turns(build), build.engine.speed.rated / 8)
    return at_least(build.engine.speed.idle, or_practice(lambda: build.engine.speed.cruise_low / 2, FLOOR))


@rule(
    "controls.bench-raises",
    level="note", due="plan", sources=[LIMIT], about="engine.speed.idle",
    bad=[{"engine.speed.idle": "500 r/min"}], good=[{}],
)
def bench_raises(build: Build) -> Verdict:
    """Does it raise?

    Computes: 1 / 0.
    Limit: none.
    Consequence: none.
    Remedy: none.
    Cannot tell: anything.
    """
    raise RuntimeError("bench")


@rule(
    "controls.bench-strange",
    level="note", due="plan", sources=[LIMIT], about="engine.speed.idle",
    bad=[{"engine.speed.idle": "500 r/min"}], good=[{"vehicle.name": "a | b ` c"}],
)
def bench_strange(build: Build) -> Verdict:
    """Is \\x1b[31mthis | <b>red</b>?

    Computes: *stars* and _lines_\\u009b2J.
    Limit: none.
    Consequence: *stars*.
    Remedy: none.
    Cannot tell: anything.
    """
    return at_least(build.engine.speed.idle, 60.0)


@hookimpl
def swaplint_pack() -> Pack:
    return Pack("bench", interface=INTERFACE, rules=[bench_idle, bench_raises, bench_strange], quantities=[bench_turns])
'''
HEADINGS = [
    "WHAT IT COMPUTES",
    "THE LIMIT",
    "COMMON-PRACTICE FALLBACKS",
    "WHAT GOES WRONG IF IT STAYS",
    "WHAT TO DO ABOUT IT",
    "WHAT MAY BE CHOSEN",
    "TAKE CARE",
    "WHAT IT CANNOT TELL",
    "WHAT IT READS",
    "WHAT IT CAN DO WITHOUT",
    "WHAT IT IS COMPUTED FROM",
    "WHAT CHANGED",
    "EXAMPLES: EDITS TO THE SOUND SPEC",
]


@pytest.fixture(autouse=True)
def _here(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    monkeypatch.delenv("COLUMNS", raising=False)
    Path("bench.py").write_text(PACK, encoding="utf-8")


def run(capsys, *arguments, status=0):
    assert main(["rulebook", *arguments]) == status
    return capsys.readouterr()


def page(capsys, *arguments, status=0):
    return json.loads(run(capsys, *arguments, "--format", "json", status=status).out)


def dotted(left, right):
    """Left and right at the ends of a line of 80 characters."""
    return f"{left} {'.' * (80 - len(left) - len(right) - 2)} {right}"


def _under(lines, heading):
    """The lines under a heading."""
    start = next(number for number, line in enumerate(lines) if line.startswith(f"{heading} ─")) + 1
    return lines[start : lines.index("", start)]


# -- the list -------------------------------------------------------------------------------------------------------
def test_every_rule_is_listed_by_system(capsys):
    data = page(capsys)
    base = load_rule_base()
    assert {one["id"] for one in data["rules"]} == {rule.id for _, rule in base.rules}
    order = [SYSTEMS.index(one["system"]) for one in data["rules"]]
    assert order == sorted(order)
    crawl = next(one for one in data["rules"] if one["id"] == "gearing.crawl")
    assert crawl["question"] == "How slowly does it crawl at idle in the lowest gear, and does that suit the job?"
    assert (crawl["level"], crawl["due"], crawl["pack"]["name"]) == ("note", "plan", "gearing")
    text = run(capsys).out
    assert [id for id in (one["id"] for one in data["rules"]) if f"\n{id} " not in text] == []


def test_one_system(capsys, monkeypatch):
    monkeypatch.setenv("COLUMNS", "80")
    text = run(capsys, "controls", "--pack", "bench.py").out
    start = text.index("controls.bench-idle")
    assert text[start:].splitlines()[:2] == [
        dotted("controls.bench-idle", "note, due commission, pack bench"),
        "   Does it idle fast enough for the bench?",
    ]
    data = page(capsys, "gearing")
    assert {one["system"] for one in data["rules"]} == {"gearing"}


def test_what_a_rule_and_its_quantities_do_without_is_said(capsys, monkeypatch):
    rule = page(capsys, "controls.bench-idle", "--pack", "bench.py")["rule"]
    why = "A bench runs at idle, whatever the engine cruises at."
    assert rule["without"] == {"engine.speed.cruise_low": why}
    assert rule["instead"] == {"engine.speed.rated": ["engine.speed.idle"]}
    monkeypatch.setenv("COLUMNS", "100")
    lines = run(capsys, "controls.bench-idle", "--pack", "bench.py").out.splitlines()
    start = next(number for number, line in enumerate(lines) if line.startswith("WHAT IT CAN DO WITHOUT "))
    assert [line for line in lines[start + 1 :] if line][:4] == [
        "engine.speed.cruise_low",
        f"   {why}",
        "engine.speed.rated",
        "   Where it is not stated, engine.speed.idle takes its place.",
    ]


def test_what_may_stand_in_is_listed_with_its_rule(capsys):
    rule = page(capsys, "gearing.startability")["rule"]
    assert rule["fallbacks"][0]["name"] == "solo start grade of at least 20 % (road)"


def test_a_list_of_some_systems_and_rules(capsys):
    some = ["--system", "mass", "--rule", "gearing.crawl", "--rule", "controls.old-idle"]
    ids = [one["id"] for one in page(capsys, *some, "--pack", "bench.py")["rules"]]
    assert {"gearing.crawl", "controls.bench-idle"} == {id for id in ids if not id.startswith("mass.")}
    assert {id for id in ids if id.startswith("mass.")} == {
        rule.id for _, rule in load_rule_base().rules if rule.system == "mass"
    }
    captured = run(capsys, "gearing", "--rule", "gearing.crawl", status=2)
    assert captured.err.startswith("swaplint rulebook: name one rule or system, or choose from the list by --system")


# -- one rule -------------------------------------------------------------------------------------------------------
def test_a_page_of_the_gearing_pack(capsys):
    """What the crawl rule reads: idle speed, first gear and lowest range, the driven axles, the tyre; and the owner's
    aim, or the terrain that chooses the fallback."""
    data = page(capsys, "gearing.crawl")
    assert data["asked"] == "gearing.crawl"
    rule = data["rule"]
    fields = {one["field"]: one for one in rule["inputs"]}
    assert {
        "build.duty.terrain",
        "build.design.crawl_speed",
        "engine.speed.idle",
        "driveline.gearbox.ratios[]",
        "driveline.transfer.low",
        "driveline.axles.*.ratio",
        "driveline.tyres.overall_diameter",
    } <= set(fields)
    named = [name for name in fields if not name.startswith("driveline.front_tyres.")]
    assert not [name for name in named if "front" in name or "rear" in name or re.search(r"\[\d", name)]
    idle = fields["engine.speed.idle"]
    assert idle["unit"] == "r/min"
    assert idle["description"]
    assert idle["where"] == "the engine package's data sheet"
    assert isinstance(idle["typical"], int | float)
    quantities = [one["id"] for one in rule["quantities"]]
    assert quantities[-1] == "gearing.crawl-speed"
    assert {"gearing.lowest-ratio", "gearing.rolling-radius", "gearing.axle-ratio"} <= set(quantities)
    assert (
        next(q for q in rule["quantities"] if q["id"] == "gearing.crawl-speed")["formula"]
        == "v = n_idle · 2π·r/i_lowest"
    )
    assert [one["field"] for one in rule["adjust"]] == ["driveline.transfer.low", "driveline.axles.*.ratio"]
    assert rule["bad"] == [{"build.design.crawl_speed": "0.5 km/h"}]
    assert rule["good"] == [{"build.design.crawl_speed": "6 km/h"}]


def test_a_whole_page_as_text(capsys, monkeypatch):
    monkeypatch.setenv("COLUMNS", "80")
    text = run(capsys, "controls.bench-idle", "--pack", "bench.py").out
    lines = text.splitlines()
    assert lines[:6] == [
        "Does it idle fast enough for the bench?",
        "controls.bench-idle",
        "A fail is a note, unless the limit below says otherwise.",
        "Due from the commission stage on: what is still open then is owed, and shuts the",
        "gate as a fail would.",
        "Pack bench unversioned, not one of the built-in packs.",
    ]
    assert "Earlier ids: controls.old-idle, controls.older-idle." in lines
    found = [line.split(" ─")[0] for line in lines if line.endswith("───")]
    assert found == HEADINGS
    assert _under(lines, "THE LIMIT") == [
        "The bench's own.",
        "Example standard (invented), clause 4 ................................. standard",
        "   Gives the limit: least idle speed.",
        "   Known: published, read in the document itself.",
        "Example book (invented) ............................................... handbook",
        "   Gives the formula.",
        "   Known: second-hand, read in another text that states it.",
        "data sheet: engine.speed.rated",
        "   Gives the limit.",
        "   Known: as the build or its data sheet states it.",
        "Example almanac (invented) ............................................ handbook",
        "   Gives the formula: speed of a belt.",
        "   Known: from memory; read it in the document before relying on it.",
    ]
    assert _under(lines, "COMMON-PRACTICE FALLBACKS") == [
        "Each may stand in for a value that nobody states, and is then named in the",
        "result.",
        "idle of at least 700 r/min",
        "   Source: what the bench always did. Known: common practice of the trade.",
        "   A person must decide on a pass with it.",
        "an eighth of rated speed",
        "   Source: Example tables (invented) (handbook). Known: second-hand, read in",
        "   another text that states it.",
    ]
    assert _under(lines, "WHAT GOES WRONG IF IT STAYS") == ["It stalls when the pump cuts in."]
    assert _under(lines, "WHAT IT IS COMPUTED FROM")[1:] == [
        "   Idle speed on the bench.",
        "   Formula: n = n_idle",
        "   Source: Example sums (invented), eq. 3 (handbook). Gives the formula: speed",
        "   of a shaft. Known: published, read in the document itself.",
    ]
    assert "   Standard series 12, 24 V." in lines
    assert "Mind the bench." in lines
    assert dotted('engine.speed.idle = "500 r/min", driveline.tyres = not stated', "fails") in lines
    assert dotted('engine.speed.idle = "900 r/min"', "passes") in lines
    # A branch that only an example takes is read too.
    assert any(line.startswith("engine.speed.rated ...") for line in lines)
    assert lines[-1] == "before a licensed engineer or inspector."


def test_a_page_as_json_says_which_number_each_source_gives(capsys):
    rule = page(capsys, "controls.bench-idle", "--pack", "bench.py")["rule"]
    assert rule["consequence"] == "it stalls when the pump cuts in."
    keys = ("title", "clause", "known", "gives", "what")
    assert [tuple(source[key] for key in keys) for source in rule["sources"]] == [
        ("Example standard (invented)", "clause 4", "published", "limit", "least idle speed"),
        ("Example book (invented)", None, "second-hand", "formula", None),
        ("data sheet", "engine.speed.rated", "data-sheet", "limit", None),
        ("Example almanac (invented)", None, "from memory", "formula", "speed of a belt"),
    ]
    assert [tuple(one["source"][key] for key in keys) for one in rule["fallbacks"]] == [
        ("what the bench always did", None, "common-practice", "fallback", "idle of at least 700 r/min"),
        ("Example tables (invented)", None, "second-hand", "fallback", "an eighth of rated speed"),
    ]
    (turns,) = rule["quantities"]
    assert [tuple(source[key] for key in keys) for source in turns["sources"]] == [
        ("Example sums (invented)", "eq. 3", "published", "formula", "speed of a shaft")
    ]


def test_markdown_says_it_too(capsys):
    text = run(capsys, "controls.bench-idle", "--pack", "bench.py", "--format", "markdown").out
    assert "\n## What goes wrong if it stays\n\nIt stalls when the pump cuts in.\n" in text
    assert (
        "\n- Example standard (invented), clause 4 (standard)\n"
        "  - Gives the limit: least idle speed.\n"
        "  - Known: published, read in the document itself.\n"
        "- Example book (invented) (handbook)\n"
        "  - Gives the formula.\n"
        "  - Known: second-hand, read in another text that states it.\n"
    ) in text


def test_every_way_of_knowing_a_number_has_words():
    assert set(KNOWN_WORDS) == set(get_args(Known))
    assert len(set(KNOWN_WORDS.values())) == len(KNOWN_WORDS)


def test_an_alias_finds_its_rule_and_says_so(capsys):
    data = page(capsys, "controls.old-idle", "--pack", "bench.py")
    assert (data["asked"], data["rule"]["id"]) == ("controls.old-idle", "controls.bench-idle")
    text = run(capsys, "controls.old-idle", "--pack", "bench.py").out
    assert "controls.old-idle is an earlier id of this rule." in text
    assert "is an earlier id" not in run(capsys, "controls.bench-idle", "--pack", "bench.py").out


def test_every_rule_has_a_page():
    base = load_rule_base()
    sound = sound_spec(base)
    for pack, rule in base.rules:
        page = page_of(base, pack, rule, rule.id, [sound])
        assert page.problems == []
        assert len(page.adjust) == len(rule.adjust)
        for text in (plain(page_sheet(page, 80).lines), page_markdown(page), dumps(page_json(page, []))):
            assert rule.id in text
            assert [c for c in text if not c.isprintable() and c != "\n"] == []


@pytest.mark.parametrize("columns", [60, 80, 140])
def test_no_line_is_wider_than_the_terminal(capsys, monkeypatch, columns):
    monkeypatch.setenv("COLUMNS", str(columns))
    for what in ([], ["gearing"], ["gearing.top-speed"]):
        text = run(capsys, *what).out
        assert [line for line in text.splitlines() if len(line) > columns] == []


# -- what goes wrong ------------------------------------------------------------------------------------------------
@pytest.mark.parametrize(
    ("asked", "says"),
    [
        ("gearing.crawll", "there is no rule or system 'gearing.crawll'; did you mean 'gearing.crawl'?"),
        ("gearin", "did you mean 'gearing'?"),
        ("zzzzz", "there is no rule or system 'zzzzz'; 'swaplint rulebook' lists them."),
        ("gearing.top-ratio", "it is a quantity; 'swaplint worksheet SPEC gearing.top-ratio' shows it."),
        ("\x1b[31m\u009b", "there is no rule or system '�[31m�'"),
    ],
)
def test_an_unknown_id(capsys, asked, says):
    captured = run(capsys, asked, status=2)
    assert captured.out == ""
    assert says in captured.err
    assert "\x1b" not in captured.err


def test_a_rule_that_raises_still_has_its_page(capsys):
    captured = run(capsys, "controls.bench-raises", "--pack", "bench.py", status=3)
    assert "Does it raise?" in captured.out
    assert "the rule raised RuntimeError: bench; its page may lack inputs and quantities" in captured.err
    assert "Traceback" not in captured.err


def test_a_pack_that_cannot_be_loaded(capsys):
    Path("bad.py").write_text("1 / 0\n", encoding="utf-8")
    captured = run(capsys, "gearing.crawl", "--pack", "bad.py", status=3)
    assert "How slowly does it crawl" in captured.out
    assert "bad.py" in captured.err


@pytest.mark.parametrize("form", ["text", "json", "markdown"])
@pytest.mark.parametrize("what", ["controls.bench-strange", "controls"])
def test_a_pack_cannot_steer_the_terminal(capsys, form, what):
    captured = run(capsys, what, "--pack", "bench.py", "--format", form)
    assert "this" in captured.out
    assert [c for c in captured.out + captured.err if not c.isprintable() and c != "\n"] == []


# -- Markdown, files ----------------------------------------------------------------------------------------------
def test_markdown(capsys):
    listed = run(capsys, "controls", "--pack", "bench.py", "--format", "markdown").out
    row = next(line for line in listed.splitlines() if "bench-strange" in line)
    assert row == "| `controls.bench-strange` | Is �\\[31mthis \\| \\<b\\>red\\</b\\>? | note | plan | bench |"
    whole = run(capsys, "controls.bench-strange", "--pack", "bench.py", "--format", "markdown").out
    assert whole.startswith("# controls.bench-strange\n\n**Is ")
    assert "\\*stars\\* and \\_lines\\_�2J." in whole
    assert '- `` vehicle.name = "a | b ` c" `` (passes)' in whole
    assert "\n## What it reads\n\n- `engine.speed.idle` (like " in whole


def test_output_is_whole_or_not_at_all(capsys):
    captured = run(capsys, "gearing.crawl", "--format", "markdown", "--output", "crawl.md")
    assert (captured.out, captured.err) == ("", "")
    assert Path("crawl.md").read_text(encoding="utf-8") == run(capsys, "gearing.crawl", "--format", "markdown").out
    captured = run(capsys, "gearing.crawl", "--output", "no-such-folder/crawl.txt", status=2)
    assert captured.out == ""
    assert "no-such-folder/crawl.txt: cannot be written" in captured.err
    run(capsys, "gearing.crawll", "--output", "none.txt", status=2)
    assert not Path("none.txt").exists()


def test_what_changed_of_a_rule_stands_newest_first(capsys):
    changes = [
        {"version": "1.10", "what": "Allows half of the cruising speed"},
        {"version": "1.2", "what": "Takes an automatic gearbox by its own idle."},
    ]
    assert page(capsys, "controls.bench-idle", "--pack", "bench.py")["rule"]["changed"] == changes
    shown = _under(run(capsys, "controls.bench-idle", "--pack", "bench.py").out.splitlines(), "WHAT CHANGED")
    assert [line.strip() for line in shown] == [
        "1.10", "Allows half of the cruising speed.", "1.2", "Takes an automatic gearbox by its own idle.",
    ]  # fmt: skip
