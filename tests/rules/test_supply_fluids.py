"""What is poured in and how old the papers are, worked out beside the test."""

from __future__ import annotations

import pytest

from swaplint.kit.trial import of_part, one, trial

FLUIDS, AGE = "supply.fluids", "supply.sheet-age"
FILLS = "supply[14].fills"


# -- how much ---------------------------------------------------------------------------------------------------------
@pytest.mark.parametrize(
    ("fluid", "place", "enough", "short"),
    [
        ("engine-oil", 1, "7.875 L", "7.87 L"),  # 7.5 L and a twentieth
        ("coolant", 2, "8.4 L", "8.39 L"),  # 16 L of 50 %: 8 L of concentrate and a twentieth
        ("gearbox-oil", 3, "2.625 L", "2.62 L"),  # 2.5 L
        ("transfer-oil", 4, "1.89 L", "1.88 L"),  # 1.8 L
        ("axle-oil", 5, "3.99 L", "3.98 L"),  # 1.6 L and 2.2 L
    ],
)
def test_a_fill_and_a_twentieth(fluid: str, place: int, enough: str, short: str) -> None:
    for volume, kind in ((enough, "pass"), (short, "fail")):
        found = of_part(FLUIDS, fluid, {f"{FILLS}[{place}].volume": volume}, demand="volume")
        assert (found.kind, found.level) == (kind, "warning" if kind == "fail" else None)


def test_coolant_ready_mixed_counts_as_it_is() -> None:
    mixed = {f"{FILLS}[2].concentrate": False}
    assert of_part(FLUIDS, "coolant", mixed | {f"{FILLS}[2].volume": "16.8 L"}, demand="volume").kind == "pass"
    found = of_part(FLUIDS, "coolant", mixed, demand="volume")
    assert found.kind == "fail"
    assert "9 L of coolant, as mixed; a fill takes 16 L." in found.message


def test_two_lines_together() -> None:
    # 4 L of the battery's line and 3.875 L of the fluids'
    half = {"supply[5].fills": [{"fluid": "engine-oil", "volume": "4 L", "standards": ["API CJ-4"]}]}
    for volume, kind in (("3.875 L", "pass"), ("3.87 L", "fail")):
        assert of_part(FLUIDS, "engine-oil", half | {f"{FILLS}[1].volume": volume}, demand="volume").kind == kind


# -- of which standard ------------------------------------------------------------------------------------------------
@pytest.mark.parametrize(("bought", "kind"), [("API CJ-4", "pass"), ("api ck4", "pass"), ("API CF", "fail")])
def test_one_standard_in_common(bought: str, kind: str) -> None:
    assert of_part(FLUIDS, "engine-oil", {f"{FILLS}[1].standards": [bought]}, demand="standard").kind == kind


def test_the_wrong_oil_is_an_error_only_with_a_particulate_filter() -> None:
    wrong = {f"{FILLS}[1].standards": ["API CF"]}
    found = of_part(FLUIDS, "engine-oil", wrong, demand="standard")
    assert (found.level, "API CF is bought, and the engine oil must be API CK-4 or API CJ-4." in found.message) == (
        "error",
        True,
    )
    without = wrong | {"engine.aftertreatment.devices.filter.kind": "oxidation-catalyst"}
    assert of_part(FLUIDS, "engine-oil", without, demand="standard").level == "warning"
    gear = of_part(FLUIDS, "gearbox-oil", {f"{FILLS}[3].standards": ["API GL-5"]}, demand="standard")
    assert (gear.kind, gear.level) == ("fail", "warning")


def test_coolant_of_another_family() -> None:
    found = of_part(FLUIDS, "coolant", {f"{FILLS}[2].standards": ["silicate"]}, demand="family")
    assert (found.kind, found.level) == ("fail", "warning")
    assert "silicate is bought, and the coolant must be organic-acid." in found.message


def test_each_axle_has_its_own_say() -> None:
    apart = {"driveline.axles.rear.oil.standards": ["API GL-5 with friction modifier"]}
    assert of_part(FLUIDS, "axle-oil", apart, demand="standard").kind == "fail"


def test_an_axle_without_a_final_drive_takes_no_oil_unless_some_is_stated() -> None:
    trailing = {"driveline.axles.tag.driven": False}
    for volume, kind in (("3.99 L", "pass"), ("3.98 L", "fail")):
        assert of_part(FLUIDS, "axle-oil", trailing | {f"{FILLS}[5].volume": volume}, demand="volume").kind == kind
    stated = trailing | {"driveline.axles.tag.oil.volume": "1 L"}  # 4.8 L and a twentieth: 5.04 L, and 5 L are bought
    assert of_part(FLUIDS, "axle-oil", stated, demand="volume").kind == "fail"
    driven = of_part(FLUIDS, "axle-oil", {"driveline.axles.tag.driven": True}, demand="volume")
    assert (driven.kind, driven.unknown) == ("open", ("driveline.axles.tag.oil.volume",))


# -- what is not said -------------------------------------------------------------------------------------------------
def test_a_line_that_covers_the_oil_and_names_none() -> None:
    found = of_part(FLUIDS, "engine-oil", {f"{FILLS}[1].fluid": "other"}, demand="named")
    assert (found.kind, found.level) == ("fail", "warning")
    assert "'fluids and small parts' covers engine oil and names no litres of it." in found.message


def test_what_a_line_holds_is_one_question() -> None:
    found = trial(FLUIDS, {FILLS: None})
    assert [(f.kind, f.unknown) for f in found] == [("open", (FILLS,))]


def test_what_the_sheet_does_not_say_is_asked() -> None:
    found = of_part(FLUIDS, "engine-oil", {"engine.oil.fill.volume": None}, demand="volume")
    assert (found.kind, found.unknown) == ("open", ("engine.oil.fill.volume",))


def test_oil_for_a_transfer_case_that_is_not_there() -> None:
    none = {"driveline.transfer": {"fitted": False}}
    assert {f.kind for f in trial(FLUIDS, none) if f.part == "transfer-oil"} == {"notApplicable"}


# -- how old ----------------------------------------------------------------------------------------------------------
@pytest.mark.parametrize(
    ("written", "judged", "kind"),
    [
        ("2024-05-31", "2026-05-31", "pass"),
        ("2024-05-30", "2026-05-31", "fail"),
        ("2024-02-29", "2026-02-28", "pass"),
        ("2024-02-29", "2026-03-01", "fail"),
        ("2026-05-31", "2026-05-31", "pass"),
        ("2026-06-01", "2026-05-31", "review"),
        ("0001-01-01", "2026-05-31", "fail"),
        ("9999-12-31", "9999-12-31", "pass"),
    ],
)
def test_a_sheet_is_current_for_two_years(written: str, judged: str, kind: str) -> None:
    found = one(AGE, {"engine.document.date": written, "build.judged_on": judged})
    assert found.kind == kind


def test_a_sheet_counts_from_the_day_of_the_order() -> None:
    edits = {"engine.document.date": "2024-05-30", "build.judged_on": "2026-07-01"}
    assert one(AGE, edits | {"quote.ordered_on": "2026-05-30"}).kind == "pass"
    assert "revision 2, is of 2024-05-30, 762 days before 2026-07-01" in one(AGE, edits).message


def test_a_sheet_without_a_date_is_asked_for_it() -> None:
    found = one(AGE, {"engine.document.date": None})
    assert (found.kind, found.unknown) == ("open", ("engine.document.date",))


def test_the_age_of_a_sheet_is_told_in_days() -> None:
    # from 15 January to 31 May 2026: 16 + 28 + 31 + 30 + 31 days; two years are 365 and 365
    found = one(AGE, {"engine.document.date": "2026-01-15", "build.judged_on": "2026-05-31"})
    assert found.found == pytest.approx(136 * 24 * 3600)
    assert found.limit is not None
    assert found.limit.value == pytest.approx(730 * 24 * 3600)
