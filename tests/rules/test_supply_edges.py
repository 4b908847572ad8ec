"""The supply at its edges, and which of several is told. Each number with its working."""

from __future__ import annotations

from typing import Any

import pytest

from swaplint.kit.trial import of_part, one

# Two lines and nothing else: 800 + 200 = 1000 in all.
PLAIN: dict[str, Any] = {
    "supply": [{"item": item, "by": "shop", "quantity": 1, "price": price} for item, price in (("a", 800), ("b", 200))],
    "quote.labour_hours": "0 h",
    "quote.tax": "0 %",
    "quote.discount": "0 %",
    "quote.core_deposit": 0.0,
    "quote.down_payment": 0.0,
}
CABLE = "supply[13].metres_of_cable"


@pytest.mark.parametrize(
    ("total", "says"),
    [
        (798.0, "if 'b' had been left out"),  # 202 less: off 200 by 2, which are 2 per mille of the total
        (797.99, "No single line"),
        (802.0, "if 'b' had been left out"),
        (802.01, "No single line"),
        (1198.0, "if 'b' had been counted twice"),
    ],
)
def test_how_close_a_line_must_come_to_be_named(total: float, says: str) -> None:
    assert says in one("supply.quote-arithmetic", PLAIN | {"quote.total": total}, demand="total").message


def test_how_much_is_in_hand_is_seen_against_how_long_it_takes() -> None:
    # 58 days in hand of work of 34 days; 119 days of the battery's 3, and 122 of the exhaust, as of a day
    assert one("supply.end-date").margin == pytest.approx(58 / 34)
    assert of_part("supply.lead-time", "supply[5]").margin == pytest.approx(119 / 3)
    assert of_part("supply.lead-time", "supply[3]").margin == pytest.approx(122.0)


@pytest.mark.parametrize(
    ("demand", "edits", "kind", "says"),
    [
        # of filters one after the other the finest counts; of cables and holes the smallest
        ("primary-filter", {"plumbing.fuel.filters.other": {"stage": "primary", "fineness": "40 µm"}}, "pass", "20 µm"),
        ("primary-filter", {"plumbing.fuel.filters.other": {"stage": "primary", "fineness": "5 µm"}}, "pass", "5 µm"),
        ("primary-filter", {"plumbing.fuel.filters.primary.fineness": "40 µm"}, "fail", "40 µm"),
        ("starter-cable", {"electrics.cables.other": {"role": "starter", "size": "35 mm2"}}, "fail", "other has 35"),
        ("starter-cable", {"electrics.cables.other": {"role": "starter", "size": "70 mm2"}}, "pass", "battery has 50"),
        ("starter-cable", {"electrics.cables.other": {"role": "lamps", "size": "1 mm2"}}, "pass", "battery has 50"),
        ("harness-hole", {"electrics.openings.other": {"hole": "30 mm"}}, "fail", "other has 30"),
        ("harness-hole", {"electrics.openings.other": {"hole": "90 mm"}}, "pass", "bulkhead has 64"),
    ],
)
def test_which_of_several_is_told(demand: str, edits: dict[str, Any], kind: str, says: str) -> None:
    found = one("supply.prescribed-sizes", edits, demand=demand)
    assert (found.kind, says in found.message) == (kind, True)


@pytest.mark.parametrize(
    ("first", "second", "told"),
    [
        # 2.7 m of 50 mm² take 3.105 m, 2.9 m of 10 mm² take 3.335 m
        ("1 m", "3 m", "1 m of cable of 50"),  # 68 % and 10 % too little
        ("3 m", "1 m", "1 m of cable of 10"),
        ("4 m", "3.4 m", "3.4 m of cable of 10"),  # 29 % and 2 % in hand
        ("3.2 m", "4 m", "3.2 m of cable of 50"),
        ("1 m", "4 m", "1 m of cable of 50"),
        ("4 m", "3.335 m", "3.335 m of cable of 10"),  # just enough
    ],
)
def test_of_two_sizes_that_which_is_nearest_to_running_out(first: str, second: str, told: str) -> None:
    bought = [{"size": "50 mm2", "length": first}, {"size": "10 mm2", "length": second}]
    assert told in one("supply.consumables", {CABLE: bought}, demand="cable").message


def test_just_enough_is_nearer_to_running_out_than_more() -> None:
    # the cab's cable of 1.6 m with its lead of 0.4 m: 2 m of 10 mm², and 15 % are 2.3 m
    bought = [{"size": "50 mm2", "length": "4 m"}, {"size": "10 mm2", "length": "2.3 m"}]
    found = one("supply.consumables", {CABLE: bought, "electrics.cables.cab.length": "1.6 m"}, demand="cable")
    assert (found.kind, found.margin) == ("pass", 0.0)
    assert "2.3 m of cable of 10 mm²; the spec's come to 2 m." in found.message


def test_too_little_says_how_much() -> None:
    # 2 m and 15 % of it; 2.2 m is more than the runs come to, and not enough
    bought = [{"size": "50 mm2", "length": "4 m"}, {"size": "10 mm2", "length": "2.2 m"}]
    found = one("supply.consumables", {CABLE: bought, "electrics.cables.cab.length": "1.6 m"}, demand="cable")
    assert (found.kind, found.level) == ("fail", "warning")
    assert "the spec's come to 2 m. Buy 2.3 m, for some is cut away." in found.message


def test_lines_that_come_to_nothing_are_no_division() -> None:
    edits = {"quote.discount": "100 %", "quote.core_deposit": 0.0}
    finding = one("supply.quote-arithmetic", edits, demand="total")
    assert (finding.kind, finding.found) == ("fail", None)
    assert finding.message.startswith("The lines come to nothing, and the total is ")
