"""What is used up: kinds of small parts, and metres that are added up beside the test."""

from __future__ import annotations

import pytest

from swaplint.kit.trial import one, trial

RULE = "supply.consumables"
CABLE, HOSE = "supply[13].metres_of_cable", "supply[10].metres_of_hose"


@pytest.mark.parametrize(
    ("size", "enough", "short"),
    [
        ("50 mm2", "3.11 m", "3.1 m"),  # battery 0.6 m, starter 1.2 m, engine ground 0.9 m: 2.7 m and 15 %, 3.105 m
        ("1/0 AWG", "0.1 m", None),  # 53.5 mm2: the spec has no cable of that size
        ("1 mm2", "7.13 m", "7.12 m"),  # 2.4 m there and back, 1 m and its lead of 0.4 m: 6.2 m and 15 %
    ],
)
def test_metres_of_a_size_of_cable(size: str, enough: str, short: str | None) -> None:
    found = one(RULE, {CABLE: [{"size": size, "length": enough}]}, demand="cable")
    assert found.kind == ("pass" if short else "notApplicable")
    if short:
        found = one(RULE, {CABLE: [{"size": size, "length": short}]}, demand="cable")
        assert (found.kind, found.level) == ("fail", "warning")


def test_of_two_sizes_the_shorter_is_told() -> None:
    both = [
        {"size": "50 mm2", "length": "9 m"},
        {"size": "10 mm2", "length": "2.8 m"},
    ]  # the cab's 2.5 m, its lead 0.4 m
    found = one(RULE, {CABLE: both}, demand="cable")
    assert found.kind == "fail"
    assert "2.8 m of cable of 10 mm²; the spec's come to 2.9 m." in found.message


def test_the_same_size_on_two_lines_is_added_up() -> None:
    half = {CABLE: [{"size": "50 mm2", "length": "1.6 m"}]}
    other = {"supply[5].metres_of_cable": [{"size": "0.5 cm2", "length": "1.6 m"}]}
    assert one(RULE, half, demand="cable").kind == "fail"
    assert one(RULE, half | other, demand="cable").kind == "pass"


def test_coolant_hose() -> None:
    # 0.7 m and 0.7 m of 38 mm: 1.4 m and 15 % are 1.61 m
    for length, kind in (("1.61 m", "pass"), ("1.6 m", "fail")):
        assert one(RULE, {f"{HOSE}[1].length": length}, demand="coolant-hose").kind == kind
    none = one(RULE, {"plumbing.cooling.hoses": {}}, demand="coolant-hose")
    assert none.kind == "review"


def test_fuel_hose_is_what_is_not_pipe() -> None:
    # the supply line of 3.8 m as hose: 4.37 m; the return is of another bore
    hose = {"plumbing.fuel.supply.material": "hose"}
    for length, kind in (("4.37 m", "pass"), ("4.36 m", "fail")):
        bought = hose | {"supply[11].metres_of_hose": [{"carries": "fuel", "inner": "10 mm", "length": length}]}
        assert one(RULE, bought, demand="fuel-hose").kind == kind
    assert one(RULE, demand="fuel-hose").kind == "notApplicable"


def test_kinds_of_small_parts_that_no_line_names() -> None:
    found = one(RULE, {"supply[14].small_parts": ["hose-clamps", "cable-lugs"]}, demand="small-parts")
    assert (found.kind, found.level) == ("fail", "warning")
    assert "does not name gaskets-and-seals: gaskets, shaft seals" in found.message
    assert "hose-clamps" not in found.message
    assert one(RULE, {"supply[14].small_parts": []}, demand="small-parts").kind == "fail"


def test_another_line_may_bring_some() -> None:
    others = ["one-use-bolts", "thread-locking", "hose-clamps", "cable-lugs", "clips-and-grommets", "fuel-washers"]
    split = {"supply[14].small_parts": others, "supply[3].small_parts": ["exhaust-gaskets", "gaskets-and-seals"]}
    assert one(RULE, split, demand="small-parts").kind == "pass"


def test_what_is_not_said() -> None:
    found = one(RULE, {"supply[14].small_parts": None}, demand="small-parts")
    assert (found.kind, found.unknown) == ("open", ("supply[14].small_parts",))
    assert {f.kind for f in trial(RULE, {"quote": {"fitted": False}})} == {"notApplicable"}
