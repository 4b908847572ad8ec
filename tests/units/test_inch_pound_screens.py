"""Every screen in inch-pound units: no metric unit is left, but where a value echoes or the trade writes it so."""

from __future__ import annotations

import ast
import functools
import re
import tomllib
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from swaplint.cli import main
from swaplint.cli.reading import load_one
from swaplint.declare.sources import Source
from swaplint.kit.trial import rule_base
from swaplint.units.prose import told
from swaplint.units.showing import SHOWING, showing_in

ROOT = Path(__file__).parents[2]
EXAMPLES = sorted((ROOT / "specs").glob("*.toml"))
UNITS = ("--units", "inch-pound")


@pytest.fixture(autouse=True)
def nobody_chose() -> Iterator[None]:
    """Each test begins and ends with no unit system chosen."""
    assert SHOWING.system is None
    yield
    assert SHOWING.system is None


METRIC = re.compile(
    r"(?<![\w.])[-+]?[0-9][0-9.,]*(?: [0-9]{3})* ?"
    r"(?:mm|cm|m|km|kg|t|kN|N|kPa|MPa|GPa|bar|mbar|Pa|L|mL|kW|°C|degC|K|km/h|m/s²?|N m|Nm|L/h|L/min|kJ|MJ|g/s|kg/s"
    r"|kg/h|m³/h|m²|m2|cm²|kg/m³|g/kWh|L/100 km|W/K|W/\(m² K\)|kg·m)(?![\w²³/·'])(?! \([0-9 /.]+ in\))"
)
"""A number with a metric unit; not the size of a hose or tube that has its inch name beside it.

What a workshop of either kind writes alike is not among these units: volts, amperes, ohms, watts, r/min, Hz, bit/s, mm²
of a cable (its wire gauge stands beside it), mm²/s, microns, g as acceleration, per cent and degrees of an angle; the
litres of an engine's size, see below; M10, as a thread is called; the grams in which dust is weighed.
"""
ENGINE_SIZE = re.compile(r"litre of diesel engine, (?:up to|above) [0-9] L")
CURVE = re.compile(r"\([\w ]+, [\w ]+\):(?: [-0-9.,]+ \S+, [-0-9.,]+ \S+)+")
EDIT = re.compile(r' = (?:"[^"]*"|\[[^\]]*\]|\{[^}]*\})')


def plain(text: str) -> str:
    """A screen as one line, without the dots of its leaders."""
    return " ".join(re.sub(r" \.{3,} ", " ", text).split())


def strings(table: Any) -> Iterator[str]:
    """All strings of a TOML file, and its numbers of a curve as they are written."""
    if isinstance(table, str):
        yield table
    elif isinstance(table, dict):
        for value in table.values():
            yield from strings(value)
    elif isinstance(table, list):
        for value in table:
            yield from strings(value)


def typed(spec: Path) -> list[str]:
    """What a person typed into a spec and its data sheets: values, and words such as the name of a supplied tank."""
    loaded, problems = load_one(str(spec), [], rule_base())
    assert loaded is not None, problems
    files = [spec, *(spec.parent / file for file in (*loaded.sheets, *loaded.lower))]
    found = {text for file in files for text in strings(tomllib.loads(file.read_text(encoding="utf-8")))}
    return sorted((text for text in found if re.search("[0-9]", text)), key=len, reverse=True)


def without_echoes(text: str, written: list[str]) -> str:
    """A screen without the values that echo as they were typed: beside `=`, in a formula or curve, or so far stated."""
    for words in written:
        if words not in text:
            continue
        if " " in words and not re.fullmatch(r"[-+0-9./]+ ?\S+(?: \S+)?", words):
            text = text.replace(words, "")  # words of a person, not a value
        text = re.sub(
            rf"(?:= \(?|stated as |\(mass\): |(?<=[·/(])\(){re.escape(words)}(?= ±|[;,. )]|$)(?: ± \S+ \S+)?", " ", text
        )
        text = re.sub(rf"(?<= ){re.escape(words)}(?= (?:outer|inner)\b)", " ", text)  # a pipe's end, as it is sold
    return CURVE.sub(" ", text)


@functools.cache
def told_as_written() -> list[str]:
    """Formulas, and the titles of published documents: as they are written, for all."""
    base = rule_base()
    formulas = {quantity.formula for _, quantity in base.quantities}
    cited: set[Source] = {source for _, rule in base.rules for source in rule.sources}
    cited |= {source for _, quantity in base.quantities for source in quantity.sources}
    titles = {source.title for source in cited if source.kind != "common-practice"}
    return sorted((" ".join(words.split()) for words in formulas | titles if words), key=len, reverse=True)


def left_in_metric(text: str, written: list[str]) -> list[str]:
    text = plain(text)
    for words in told_as_written():
        text = text.replace(words, " ")
    text = without_echoes(ENGINE_SIZE.sub(" ", text), written)
    return [text[max(0, found.start() - 60) : found.end() + 30] for found in METRIC.finditer(text)]


def screen(capsys: pytest.CaptureFixture[str], *words: str) -> str:
    assert main([*words, *UNITS]) in (0, 1)
    return capsys.readouterr().out


@pytest.mark.parametrize(
    "spec",
    [pytest.param(p, marks=[] if "tender" in p.name else [pytest.mark.thorough], id=p.stem) for p in EXAMPLES],
)
def test_no_metric_unit_is_left_on_a_sheet(spec: Path, capsys: pytest.CaptureFixture[str]) -> None:
    written = typed(spec)
    path = str(spec)
    for words in (("inspect", path), ("inspect", path, "--whole"), ("worksheet", path), ("worksheet", path, "--whole")):
        assert left_in_metric(screen(capsys, *words), written) == []


def test_the_search_finds_what_is_left_in_metric(capsys: pytest.CaptureFixture[str]) -> None:
    spec = EXAMPLES[-1]
    main(["inspect", str(spec), "--whole"])
    assert len(left_in_metric(capsys.readouterr().out, typed(spec))) > 500


@pytest.mark.thorough
def test_no_metric_unit_is_left_on_a_page_of_the_rulebook(capsys: pytest.CaptureFixture[str]) -> None:
    pages = {rule.id: EDIT.sub(" ", plain(screen(capsys, "rulebook", rule.id))) for _, rule in rule_base().rules}
    assert len(pages) > 100
    assert {id: found for id, page in pages.items() if (found := left_in_metric(page, []))} == {}


SIZED = ("plumbing.fuel.supply.bore", "driveline.axles.rear.ratio", "electrics.cables.starter.size")


@pytest.mark.thorough
def test_no_metric_unit_is_left_where_a_choice_is_made(capsys: pytest.CaptureFixture[str]) -> None:
    spec = next(path for path in EXAMPLES if "tender" in path.name)
    written = typed(spec)
    for field in SIZED:
        assert left_in_metric(screen(capsys, "size", str(spec), field), written) == []
    vary = ("--vary", "plumbing.fuel.supply.bore=3/8 in,1/2 in", "--show", "fuel.suction-loss")
    assert left_in_metric(screen(capsys, "study", str(spec), *vary), written) == []
    for one in ("fuel.suction-loss", "cooling.top-tank-high", "mass.axle-load", "gearing.tyre-diameter"):
        assert left_in_metric(screen(capsys, "worksheet", str(spec), one), written) == []


@pytest.mark.thorough
def test_no_metric_unit_is_left_in_the_words_of_a_draft(capsys: pytest.CaptureFixture[str]) -> None:
    """Its values are those of a spec: a field that takes kelvins, and a hose that is sold by the millimetre, stay."""
    for stage in ("idea", "plan", "build"):
        text = re.sub(r'"[^"]*"', " ", screen(capsys, "draft", "-", "--stage", stage))
        assert left_in_metric(text, []) == []


@pytest.mark.parametrize(
    ("text", "about", "words"),
    [
        ("within 300 mm of a window", "", "within 11.8 in of a window"),
        ("10 to 20 mm between pipe ends", "", "0.394 to 0.787 in between pipe ends"),
        ("300, 400 and 450 N with failed assistance", "", "67.4, 89.9 and 101 lbf with failed assistance"),
        ("belt speed up to 45 m/s (45 to 50)", "", "belt speed up to 148 ft/s (148 to 164 ft/s)"),
        ("51 mm (2 in) below the tank", "", "2 in below the tank"),
        ("a warning at 27.1 kPa (8 inHg)", "", "a warning at 8 inHg"),
        ("freezing at -11 °C, kept at 30 °C or less", "", "freezing at 12.2 °F, kept at 86 °F or less"),
        ("at least 8 K below boiling", "", "at least 14.4 °F below boiling"),
        ("6.5 K for each km", "", "18.8 °F for each mile"),
        ("60 K lost for each metre of pipe", "", "32.9 °F lost for each foot of pipe"),
        ("5 kW for each tonne", "", "6.08 hp for each short ton"),
        ("air of 5.2 kg/h for each kW", "", "air of 8.55 lb/h for each hp"),
        ("350 A for each litre of diesel engine, up to 3 L", "", "350 A for each litre of diesel engine, up to 3 L"),
        ("shear stress of at most 125 MPa", "", "shear stress of at most 18.1 ksi"),
        ("fuel at well over 100 MPa", "", "fuel at well over 14 500 psi"),
        ("at most 6.2 kPa at change", "intake.restriction", "at most 24.9 inH2O at change"),
        ("at most 20 kPa", "fuel.return-pressure", "at most 5.91 inHg"),
        ("no worm drive from 100 kPa on", "fuel.materials", "no worm drive from 14.5 psi on"),
        ("a cap of 90 kPa", "cooling.cap", "a cap of 13.1 psi"),
        ("2.1 mm²/s at 40 °C, 35 mm² of copper, 5 µm", "", "2.1 mm²/s at 104 °F, 35 mm² of copper, 5 µm"),
        ("SAE J1939-14, 40 m of trunk at 250 kbit/s (-14)", "", "SAE J1939-14, 131 ft of trunk at 250 kbit/s (-14)"),
        ("factor 1.3 (1.2 to 1.5) up to 7 degrees, 20 g", "", "factor 1.3 (1.2 to 1.5) up to 7 degrees, 20 g"),
        ("14 500 N", "", "3260 lbf"),
    ],
)
def test_a_hand_written_sentence_is_told_in_inch_pound_units(text: str, about: str, words: str) -> None:
    # by hand: 300/25.4 = 11.81; 450/4.44822 = 101.2; 45/0.3048 = 147.6; -11·1.8 + 32 = 12.2; 8·1.8 = 14.4;
    # 6.5·1.8·1.609344 = 18.83; 60·1.8·0.3048 = 32.92; 5/0.7457·0.90718 = 6.083; 5.2·2.20462·0.7457 = 8.549;
    # 125/6.894757 = 18.13; 100e3/6.894757 = 14 504; 6.2/0.249089 = 24.89; 20/3.38639 = 5.906; 90/6.894757 = 13.05
    assert told(text, about) == text
    with showing_in("inch-pound"):
        assert told(text, about) == words


def _texts(node: ast.AST) -> Iterator[tuple[int, str]]:
    """The texts below a node with their lines, a number that is put into one as `0`; not those that `told` tells."""
    if isinstance(node, ast.Call) and getattr(node.func, "id", "") == "told":
        return
    if isinstance(node, ast.JoinedStr):
        pieces = [str(part.value) if isinstance(part, ast.Constant) else "0" for part in node.values]
        yield node.lineno, "".join(pieces)
        for part in node.values:
            if isinstance(part, ast.FormattedValue):
                yield from _texts(part.value)
    elif isinstance(node, ast.Constant):
        if isinstance(node.value, str):
            yield node.lineno, node.value
    elif not (isinstance(node, ast.Expr) and isinstance(node.value, ast.Constant)):  # a docstring
        for child in ast.iter_child_nodes(node):
            yield from _texts(child)


def test_no_rule_writes_a_metric_unit_into_a_sentence_by_hand() -> None:
    """A branch that no example takes is no way past the one table either: `shown` or `told` stands before each unit."""
    left = []
    for file in sorted((ROOT / "rules").rglob("*.py")):
        for made in ast.walk(ast.parse(file.read_text(encoding="utf-8"))):
            if isinstance(made, ast.FunctionDef):
                texts = [text for statement in made.body for text in _texts(statement)]
                left += [f"{file.name}:{line}: {text}" for line, text in texts if METRIC.search(text)]
    assert left == []
