"""The page: whole, valid, escaped, alone in its file, readable by eye and ear."""

from __future__ import annotations

import shutil
from pathlib import Path

import html5lib
import pytest
from calling import call
from hypothesis import given, settings
from hypothesis import strategies as st
from page_checks import Read, contrast, palettes

from swaplint.declare.cautions import CLOSING
from swaplint.reports.finding_words import HEADINGS
from swaplint.reports.html.elements import el, joined
from swaplint.reports.layout import safe

TENDER = "specs/tarnholt-tender.toml"
HOSTILE = """<script>alert(1)</script>"'&amp;<!-- ]]></style></title>\u202e\ue000"""

QUOTED = HOSTILE.replace("\\", "\\\\").replace('"', '\\"')
SIGNED = """[[deviations]]
spec = "tarnholt-tender.toml"
rule = "fit.installed-angle"
demand = "front-up"
up_to = "33 deg"
reason = "TEXT"
by = "TEXT"
date = 2026-04-28
until = "quote"
"""


@pytest.fixture(scope="module")
def tender() -> str:
    ran = call("inspect", TENDER, "--gate", "never", "--format", "html")
    assert (ran.status, ran.err) == (0, b"")
    return ran.out.decode()


# -- the tender ------------------------------------------------------------------------------------------------------
def test_the_page_is_whole_and_alone(tender: str) -> None:
    read = Read(tender)
    assert read.wrong == []
    assert len(tender.encode()) < 1_500_000
    assert "default-src &#x27;none&#x27;" in tender
    assert "<script" not in tender
    assert "@import" not in tender


def test_the_page_holds_what_the_text_sheet_says_in_its_order(tender: str) -> None:
    read = Read(tender)
    headings = [text.partition(" (")[0] for text in read.of("h3")]
    expected = [HEADINGS[one].capitalize() for one in ("error", "warning", "note", "review")]
    assert headings == [
        "Systems at a glance",
        *expected,
        "Worth finding out next",
        "Mind",
        "Drawings",
        "Every result",
        "Every number",
    ]
    text = call("inspect", TENDER, "--gate", "never", "--whole").out.decode()
    shown = " ".join(text.split())
    verdict = next(words for words in read.of("p") if words.startswith("No level of fail"))
    assert verdict in shown
    said = " ".join(piece for _, piece in read.text)
    for words in (
        "A limiter at 89 km/h or less would do.",
        "vehicle.engine_place.pitch from 3° to 0° passes.",
        CLOSING,
    ):
        assert words in shown
        assert words in said


def test_a_result_folds_open_with_its_calculation_lines_source_and_caution(tender: str) -> None:
    lines = Path(TENDER).read_text("utf-8").splitlines()
    line = next(number for number, text in enumerate(lines, 1) if text.startswith('top_speed = "85 km/h"'))
    start = tender.index('id="error-chassis.brake-duty"')
    result = tender[start : tender.index("</article>", start)]
    fold = result[result.index("<details") :]
    for words in (
        "K = m·v²/(m_old·v_old²)",
        "K = (7500 kg)·(103.44 km/h)²/((7500 kg)·(85 km/h)²)",
        "= 1.4809",
        f"top_speed = 85 km/h <i>line {line}</i>",
        "Limpert, Brake Design and Safety",
        "Changes to brakes go before a licensed engineer or inspector before road use.",
    ):
        assert words in fold


def test_the_same_input_gives_the_same_page() -> None:
    asked = ("inspect", TENDER, "--system", "gearing", "--gate", "never", "--format", "html")
    assert call(*asked).out == call(*asked).out


# -- other calls -----------------------------------------------------------------------------------------------------
def test_a_first_idea_says_what_to_find_out_and_parses_without_an_error() -> None:
    ran = call("inspect", "specs/day-one-idea.toml", "--system", "gearing", "--format", "html")
    page = ran.out.decode()
    assert Read(page).wrong == []
    assert "Asked for only: gearing" in page
    html5lib.HTMLParser(strict=True).parse(page)


def test_several_specs_stand_below_a_table_of_all() -> None:
    paths = ["specs/day-one-idea.toml", TENDER]
    ran = call("inspect", *paths, "--rule", "gearing.crawl", "--format", "html", "--cores", "1")
    page = ran.out.decode()
    read = Read(page)
    assert read.wrong == []
    assert [text for text in read.of("a") if text in paths] == paths
    assert len(read.of("h2")) == 2


def test_what_is_compared_and_signed_for_stands_with_its_result() -> None:
    rules = [word for id in ("fit.installed-angle", "cooling.expansion-volume") for word in ("--rule", id)]
    signed = ("--deviations", "specs/shop/signed.toml", "--on", "2026-05-15", "--earlier", "specs/skerrivar-van.toml")
    ran = call("inspect", TENDER, *rules, *signed, "--format", "html")
    assert (ran.status, ran.err) == (0, b"")
    read = Read(ran.out.decode())
    assert read.wrong == []
    assert [text.partition(" (")[0] for text in read.of("h3")][:3] == [
        "Compared",
        "Systems at a glance",
        "Accepted, signed for",
    ]
    facts = read.of("dd")
    assert "new [then passed with 14.2°]" in facts
    assert any(
        words.startswith("up to 33 deg, until the quote stage, by J. Hollin, workshop manager") for words in facts
    )
    assert any(words.startswith("COMPARED: 2 new") for words in read.of("strong"))


def test_what_could_not_be_read_stands_on_the_page(tmp_path: Path) -> None:
    broken = tmp_path / "broken.toml"
    broken.write_text("[build]\nname = <b>\n")
    ran = call("inspect", str(broken), TENDER, "--rule", "gearing.crawl", "--format", "html", "--cores", "1")
    assert ran.status == 2
    read = Read(ran.out.decode())
    assert read.wrong == []
    assert "What could not be read or run" in read.of("h2")


def test_whole_it_is_the_same_page_unfolded_and_folded_it_says_on_paper_what_is_not_printed() -> None:
    asked = ("inspect", TENDER, "--rule", "gearing.crawl", "--gate", "never", "--format", "html")
    folded, whole = call(*asked).out.decode(), call(*asked, "--whole").out.decode()
    assert folded.count("<details") == whole.count("<details open") > 3
    said = '<p class="on-paper">Not printed: what folds open'
    assert said in folded
    assert said not in whole


def test_what_makes_no_sense_is_refused() -> None:
    ran = call("inspect", TENDER, "--format", "html", "--profile", "whole")
    assert ran.status == 2
    assert b"--profile is for --format sarif alone" in ran.err


# -- a stranger's spec -----------------------------------------------------------------------------------------------
def test_no_spec_can_write_a_tag(tmp_path: Path) -> None:
    specs = tmp_path / "<b>&"
    shutil.copytree("specs", specs)
    for file, before in (
        (specs / "tarnholt-tender.toml", "Tarnholt brush tender (invented)"),
        (specs / "sheets" / "corriemoor-six.engine.toml", "Corriemoor Six, installation data (invented)"),
    ):
        file.write_text(file.read_text("utf-8").replace(before, QUOTED), "utf-8")
    spec = specs / "tarnholt-tender.toml"
    signed = specs / "signed.toml"
    signed.write_text(SIGNED.replace("TEXT", QUOTED), "utf-8")
    rules = ("--rule", "fit.installed-angle", "--rule", "supply.function-coverage")
    ran = call("inspect", str(spec), *rules, "--gate", "never", "--deviations", str(signed), "--format", "html")
    assert (ran.status, ran.err) == (0, b"")
    page = ran.out.decode()
    read = Read(page)
    assert read.wrong == []
    shown = safe(HOSTILE)
    assert "".join(read.of("h2")) == shown
    facts = "".join(read.of("dd") + read.of("p"))
    assert f"{specs}/tarnholt-tender.toml, judged as" in facts
    assert f"by {shown} on 2026-04-28: {shown}" in facts
    assert f"{shown}, revision 3, 2026-02-10" in facts
    html5lib.HTMLParser(strict=True).parse(page)


@settings(deadline=None, max_examples=60)
@given(st.text(), st.text())
def test_text_comes_back_as_it_was_given(words: str, named: str) -> None:
    made = el("a", joined(words, [words, None]), cls=named, href="#")
    read = Read(f"<h1>x</h1>{made}")
    assert [problem for problem in read.wrong if "no place" not in problem] == []
    assert "".join(read.of("a")) == safe(words) * 2


# -- for the eye -----------------------------------------------------------------------------------------------------
@pytest.mark.parametrize("which", ["light", "dark"])
def test_every_colour_of_text_stands_out_from_what_it_stands_on(which: str) -> None:
    colours = palettes()[which]
    words = ("ink", "quiet", "link", "error", "warning", "note", "review", "owed", "pass")
    assert set(colours) == {*words, "paper", "sheet", "rule", "hair"}
    low = {
        (one, ground): round(contrast(colours[one], colours[ground]), 2)
        for one in words
        for ground in ("paper", "sheet")
        if contrast(colours[one], colours[ground]) < 4.5
    }
    assert low == {}


def test_the_contrast_of_black_and_white_is_21() -> None:
    assert contrast("#000000", "#ffffff") == pytest.approx(21)
