"""The quote by hand: sums, days and offered values are small enough to be worked out beside the test."""

from __future__ import annotations

import pytest

from swaplint.inspecting.inspection import inspect
from swaplint.kit.edits import edited_spec
from swaplint.kit.trial import of_part, one, rule_base, trial
from swaplint.spec.judged import judge_on

SUMS, MATCHES, TERMS = "supply.quote-arithmetic", "supply.quote-matches-spec", "supply.quote-terms"
VALID, LEAD = "supply.validity", "supply.lead-time"


# -- sums -------------------------------------------------------------------------------------------------------------
def test_the_sum_by_hand() -> None:
    # 6000 + 650 + 900 + 480 + 180 + 1450 + 1300 + 4 x 155 + 540 + 410 + 760 + 310 + 0 = 13 600 of parts
    # and work 40 x 50 = 2000; 15 600 less 5 % = 14 820; with 20 % tax 17 784; deposit 200: 17 984
    found = one(SUMS, demand="total")
    assert found.kind == "pass"
    assert found.found == pytest.approx(0.0, abs=1e-9)
    assert "17 984.00" in found.message


@pytest.mark.parametrize(
    ("total", "kind", "level"),
    [
        (17984 * 1.0049, "pass", None),
        (17984 * 1.0051, "fail", "warning"),
        (17984 * 0.9901, "fail", "warning"),
        (17984 * 0.9899, "fail", "error"),
        (0.01, "fail", "error"),
    ],
)
def test_half_a_per_cent_is_rounding_and_one_per_cent_an_error(total: float, kind: str, level: str | None) -> None:
    found = one(SUMS, {"quote.total": total}, demand="total")
    assert (found.kind, found.level) == (kind, level)


@pytest.mark.parametrize(
    ("edits", "cause"),
    [
        ({"quote.total": 17984 - 1450 * 0.95 * 1.2}, "'adapter kit with clutch, or with converter' had been left out"),
        ({"quote.total": 17984 + 900 * 0.95 * 1.2}, "'exhaust system' had been counted twice"),
        ({"quote.total": 17984 - 3 * 155 * 0.95 * 1.2}, "'hoses, pipes and ducts' had been counted once, not 4 times"),
        ({"quote.total": 14820 + 200}, "the tax had been left out"),
        ({"quote.total": 15600 * 1.2 + 200}, "the discount had not been taken off"),
        ({"quote.total": 13600 * 0.95 * 1.2 + 200}, "the work had been left out"),
        ({"quote.total": 17784.0}, "the deposit on old parts had been left out"),
        ({"quote.total": 12345.0}, "No single line"),
    ],
)
def test_the_likely_cause_of_a_difference_is_named(edits: dict[str, float], cause: str) -> None:
    assert cause in one(SUMS, edits, demand="total").message


def test_tax_that_the_prices_hold_is_not_added() -> None:
    # 15 600 less 5 % = 14 820, and the deposit of 200
    held = {"quote.prices_include_tax": True, "quote.total": 15020.0}
    assert one(SUMS, held, demand="total").kind == "pass"


def test_one_thing_twice_at_the_same_price() -> None:
    again = {"supply[4].item": "Battery", "supply[4].price": 180.0}
    found = one(SUMS, again, demand="twice")
    assert (found.kind, found.level) == ("fail", "warning")
    assert "'battery' is on the quote twice" in found.message


def test_what_the_owner_brings_is_not_on_the_quote() -> None:
    # without the battery 180 x 0.95 x 1.2 = 205.20 less
    assert one(SUMS, {"supply[5].by": "owner", "quote.total": 17778.80}, demand="total").kind == "pass"


# -- what is offered --------------------------------------------------------------------------------------------------
def offering(value: str, field: str = "electrics.cables.starter.size", agreed: str | None = None) -> dict[str, object]:
    edits: dict[str, object] = {"supply[13].offers[1].field": field, "supply[13].offers[1].value": value}
    return edits | ({"supply[13].offers[1].agreed": agreed} if agreed else {})


@pytest.mark.parametrize("value", ["50 mm2", "0.5 cm2", "50.04 mm2"])
def test_the_same_size_in_another_unit_is_the_same(value: str) -> None:
    assert of_part(MATCHES, "supply[13]", offering(value)).kind == "pass"


def test_a_smaller_cable_than_specified() -> None:
    found = of_part(MATCHES, "supply[13]", offering("35 mm2"))
    assert (found.kind, found.level) == ("fail", "error")
    assert "electrics.cables.starter.size is offered as 35 mm2, and specified as 50 mm²" in found.message


def test_another_size_that_somebody_agreed_to_is_left_to_a_person() -> None:
    found = of_part(MATCHES, "supply[13]", offering("70 mm2", agreed="the electrician: next size up"))
    assert found.kind == "review"
    assert "the electrician: next size up" in found.message


@pytest.mark.parametrize(
    ("value", "field", "says"),
    [
        ("50 litres", "electrics.cables.starter.size", "cannot be read as"),
        ("50 mm2", "electrics.cables.starter.girth", "is no field of a build spec"),
        ("50 mm2", "electrics.cables.nowhere.size", "the spec has nothing at"),
        ("petrol", "engine.fuel_type", "offered as petrol, and specified as diesel"),
        ("9.9", "driveline.transfer.high", "is offered as 9.9"),
        ("50 mm2", "", "is no field of a build spec"),
        ("50 mm2", "electrics.cables", "is no field of a build spec"),
    ],
)
def test_what_cannot_be_the_specified_part(value: str, field: str, says: str) -> None:
    found = of_part(MATCHES, "supply[13]", offering(value, field))
    assert found.kind == "fail"
    assert says in found.message


def test_a_quote_that_nobody_typed_in_is_one_question_not_one_for_each_line() -> None:
    silent = {f"supply[{number}].offers": None for number in range(1, 17) if number not in (6, 7, 15)}
    found = trial(MATCHES, silent)
    assert [(f.kind, f.unknown) for f in found] == [("open", ("supply[1].offers",))]


def test_nothing_is_asked_where_nothing_is_quoted() -> None:
    for rule in (SUMS, MATCHES, TERMS, VALID, LEAD):
        assert {f.kind for f in trial(rule, {"quote": {"fitted": False}})} == {"notApplicable"}, rule


UNQUOTED: dict[str, object] = {"quote": None} | {
    f"supply[{number}].{field}": None
    for number in range(1, 17)
    if number not in (6, 7, 15)
    for field in ("price", "lead_time", "offers", "quantity")
}


def test_a_builder_who_quotes_nothing_is_asked_nothing() -> None:
    for rule in (SUMS, MATCHES, TERMS, VALID, LEAD):
        assert {f.kind for f in trial(rule, UNQUOTED)} == {"notApplicable"}, rule


@pytest.mark.parametrize("offered", ["supply[5].price", "supply[5].lead_time", "supply[13].offers"])
def test_one_line_that_somebody_offers_asks_for_the_quote_that_it_stands_in(offered: str) -> None:
    one_line = {path: new for path, new in UNQUOTED.items() if path != offered}
    for rule in (SUMS, TERMS, VALID):
        found = [f for f in trial(rule, one_line) if f.kind != "notApplicable"]
        assert found, rule
        assert {(f.kind, f.due) for f in found} == {("open", True)}, rule


# -- what it leaves out -----------------------------------------------------------------------------------------------
def test_what_is_excluded_and_covered_all_the_same() -> None:
    found = one(TERMS, {"quote.excludes": ["heat-shields"]}, demand="excludes")
    assert found.kind == "fail"
    assert "'exhaust system' covers the heat shields" in found.message
    assert one(TERMS, {"quote.excludes": ["inspection"]}, demand="excludes").kind == "pass"  # the owner's


# -- days -------------------------------------------------------------------------------------------------------------
@pytest.mark.parametrize(
    ("until", "kind", "level"),
    [
        ("2026-05-30", "fail", "error"),  # the day before
        ("2026-05-31", "fail", "warning"),  # the last day itself
        ("2026-06-13", "fail", "warning"),  # 13 days on
        ("2026-06-14", "pass", None),  # 14 days on
    ],
)
def test_an_offer_ends_after_its_last_day(until: str, kind: str, level: str | None) -> None:
    found = one(VALID, {"quote.valid_until": until}, demand="offer")
    assert (found.kind, found.level) == (kind, level)


def test_an_offer_that_was_accepted_in_time_stands_for_good() -> None:
    accepted = {"quote.ordered_on": "2026-06-30", "build.judged_on": "2027-01-01"}
    assert one(VALID, accepted, demand="offer").kind == "pass"
    late = one(VALID, accepted | {"quote.ordered_on": "2026-07-03"}, demand="offer")
    assert late.kind == "fail"
    assert "3 days too late" in late.message


def test_a_line_whose_price_ends_before_the_offer() -> None:
    found = one(VALID, {"supply[5].valid_until": "2026-05-20"}, demand="lines")
    assert found.kind == "fail"
    assert "The price of 'battery' ran out on 2026-05-20, 11 days before" in found.message


def test_the_day_of_the_call_goes_before_that_of_the_spec() -> None:
    base = rule_base()
    for named, kind in ((True, "fail"), (False, "pass")):
        spec = edited_spec({})
        judge_on(spec, "2026-07-01", named=named)
        found = next(f for f in inspect(base, spec)[0].findings if f.rule.id == VALID and f.demand == "offer")
        assert found.kind == kind
    # a spec that states no day, and has no [build] at all, is judged on the call's
    spec = edited_spec({"build": None})
    judge_on(spec, "2026-07-01")
    stated = spec.stated("build.judged_on")
    assert stated is not None
    assert stated.value == "2026-07-01"


@pytest.mark.parametrize(
    ("edits", "kind"),
    [
        ({"engine.certificate.valid_until": "2026-12-31"}, "pass"),  # the day on which the vehicle is promised back
        ({"engine.certificate.valid_until": "2026-12-30"}, "fail"),
        ({"engine.certificate.valid_until": "2026-05-31", "quote.ready_on": None}, "pass"),  # today
        ({"engine.certificate.valid_until": "2026-05-30", "quote": {"fitted": False}}, "fail"),
        ({}, "notApplicable"),
    ],
)
def test_a_certificate_counts_on_the_day_that_it_is_needed(edits: dict[str, object], kind: str) -> None:
    found = one(VALID, edits, demand="certificate")
    assert (found.kind, found.level) == (kind, "error" if kind == "fail" else None)


@pytest.mark.parametrize(("more", "named"), [(35.0, True), (-35.0, True), (37.0, False), (-37.0, False)])
def test_a_cause_is_named_that_comes_within_a_fifth_of_a_per_cent(more: float, named: bool) -> None:
    # the engine package counted twice: 6000 less 5 % with 20 % of tax are 6840; 0.2 % of 17 984 is 36
    said = one(SUMS, {"quote.total": 17984.0 + 6840.0 + more}, demand="total").message
    assert ("That is as if 'engine package' had been counted twice" in said) is named
    assert ("No single line" in said) is not named
