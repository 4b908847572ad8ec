"""How a reading is compared and explained: assumptions made up for it, each number worked out beside its test."""

import math
from collections.abc import Callable, Mapping
from typing import Any

import pytest
from swaplint_rules.commissioning import compared  # type: ignore[import-not-found]

from swaplint.api import OutsideRange
from swaplint.inspecting.results import Finding
from swaplint.kit.trial import of_part, one

M = "measured"


def assumed(name: str, predicted: Callable[[float], float], expected: float, spread: float, **more: Any) -> Any:
    between = more.pop("between", (-5.0, 5.0))
    return compared.Assumption(
        lambda x: f"{name} of {x:.3g}", predicted, expected, spread, between, f"look at {name}", **more
    )


def unknown(_: float) -> float:
    raise OutsideRange("no number here")


# -- which value would explain a reading -------------------------------------------------------------------------------
@pytest.mark.parametrize(
    ("needed", "spreads"),
    [
        # of a size by ratio: 5 is half of 10, and usually it is a tenth off: ln 2/ln 1.1 = 7.2725; double is as far
        (5.0, 7.2725),
        (20.0, 7.2725),
        # there is no ratio to nought or below it: 10 and 14 less, a spread of 1
        (0.0, 10.0),
        (-4.0, 14.0),
    ],
)
def test_how_many_spreads_an_assumption_is_off(needed: float, spreads: float) -> None:
    assert compared._spreads(assumed("x", abs, 10.0, 1.0), needed) == pytest.approx(spreads, rel=1e-4)


def test_spreads_from_nothing_are_counted_as_they_are() -> None:
    # expected is 0, so that 3 is twelve times a quarter
    assert compared._spreads(assumed("x", abs, 0.0, 0.25), 3.0) == pytest.approx(12.0)


@pytest.mark.parametrize(
    ("between", "found", "needed"),
    [
        # 10 + 2x is to be 14: x = 2, within ±5, and just at an end of ±2; not within ±1.9
        ((-5.0, 5.0), 14.0, 2.0),
        ((-2.0, 2.0), 14.0, 2.0),
        ((-1.9, 1.9), 14.0, None),
        # 6: x = -2, by the lower end
        ((-5.0, 1.0), 6.0, -2.0),
        ((0.0, 5.0), 6.0, None),
    ],
)
def test_the_value_that_explains_a_reading_lies_where_it_may(
    between: tuple[float, float], found: float, needed: float | None
) -> None:
    answer = compared._needed(assumed("x", lambda x: 10.0 + 2.0 * x, 0.0, 1.0, between=between), found, 10.0)
    assert (None if answer is None else answer.needed) == (None if needed is None else pytest.approx(needed, rel=1e-3))


def test_a_value_is_found_on_a_curve_too() -> None:
    # x³ is to be 20: x = 2.7144, from 1 towards 10
    answer = compared._needed(assumed("x", lambda x: x**3, 1.0, 0.1, between=(0.1, 10.0)), 20.0, 1.0)
    assert answer is not None
    assert answer.needed == pytest.approx(2.7144, rel=1e-4)
    # ln(2.7144)/ln 1.1
    assert answer.spreads == pytest.approx(10.477, rel=1e-3)


def test_where_nothing_can_be_reckoned_nothing_is_explained() -> None:
    assert compared._needed(assumed("x", unknown, 0.0, 1.0), 14.0, 10.0) is None
    # reckoned at the end that is tried, and not on the way there
    broken = assumed("x", lambda x: 20.0 if x == 5.0 else unknown(x), 0.0, 1.0)
    assert compared._needed(broken, 14.0, 10.0) is None


def test_an_end_where_nothing_can_be_reckoned_is_come_as_near_to_as_one_can() -> None:
    # 10 + 2x up to 3: from 5 on the way to 0 it can first be reckoned at 2.5, so that 14 is explained by 2 and 15.5
    # by nothing
    half = assumed("x", lambda x: 10.0 + 2.0 * x if x <= 3.0 else unknown(x), 0.0, 1.0)
    explained = compared._needed(half, 14.0, 10.0)
    assert explained is not None
    assert explained.needed == pytest.approx(2.0, rel=1e-3)
    assert compared._needed(half, 15.5, 10.0) is None
    assert compared._towards(half, 5.0) == (2.5, 15.0)
    assert compared._towards(half, -5.0) == (-5.0, 0.0)


@pytest.mark.parametrize(
    ("found", "allowed", "near"),
    [
        # at x = 2 it is 14. A reading of 14.9 or 15 is within 1 of that and further than 1 from the 10 that were
        # reckoned; one of 15.1 is not near
        (14.9, 1.0, True),
        (15.0, 1.0, True),
        (15.1, 1.0, False),
        # 12 is within 2 of the 14 and no further than 2 from the 10 either
        (12.0, 2.0, False),
        (12.1, 2.0, True),
    ],
)
def test_a_fact_explains_what_was_further_away_than_both_may_be_off(found: float, allowed: float, near: bool) -> None:
    line = assumed("x", lambda x: 10.0 + 2.0 * x, 0.0, 1.0)
    assert compared._near(line, 2.0, found, 10.0, allowed) is near


# -- what is said ------------------------------------------------------------------------------------------------------
def line(name: str, slope: float, spread: float = 1.0, **more: Any) -> Any:
    return assumed(name, lambda x: 10.0 + slope * x, 0.0, spread, **more)


def test_the_explanation_that_needs_the_least_of_its_spread_is_named_with_its_nearest_rival() -> None:
    # 14 instead of 10: a needs 4, b 2, c 1.9 with a spread of a quarter, 7.6 of them
    a, b = line("a", 1.0), line("b", 2.0)
    c = line("c", 4.0 / 1.9, 0.25)
    said = compared.explained(14.0, 10.0, 1.0, [c, a, b])
    assert said == " Most likely b of 2. Or a of 4. To settle it: look at b."  # twice as far off is worth a word
    assert compared.explained(14.0, 10.0, 1.0, [c, b]) == " Most likely b of 2. To settle it: look at b."


def test_what_was_measured_and_does_not_explain_is_out_of_it() -> None:
    # b was measured as 0.1, which makes 10.2; a as 4, which makes the 14 that were read
    b, a = line("b", 2.0, fact=0.1), line("a", 1.0, fact=4.0)
    assert compared.explained(14.0, 10.0, 1.0, [b, line("a", 1.0)]) == " Most likely a of 4. To settle it: look at a."
    assert compared.explained(14.0, 10.0, 1.0, [b, a]) == " As measured it is a of 4."
    assert "Nothing that the prediction takes for granted explains it alone" in compared.explained(14.0, 10.0, 1.0, [b])


# -- how far apart, with the sound spec --------------------------------------------------------------------------------
def said(rule: str, demand: str, edits: Mapping[str, Any], part: str = "") -> Finding:
    if part:
        return of_part(f"commissioning.{rule}", part, edits, demand=demand)
    return one(f"commissioning.{rule}", edits, demand=demand)


def exact(value: str) -> dict[str, str]:
    return {"value": value, "tol": "0.001 %", "basis": "measured"}


def test_what_cannot_be_negative_is_not_allowed_to_be() -> None:
    # 39.8 mV reckoned for the charge cable, and 40 mV that its joints may take more
    limit = said("charging-electrics", "charge-as-reckoned", {f"{M}.charging.output_drop": exact("0.06 V")}).limit
    assert limit is not None
    assert isinstance(limit.value, tuple)
    assert limit.value[0] == 0.0
    # planned -3°: an angle may be negative
    low = said("laden-angles", "as-reckoned.input", {}, "rear").limit
    assert low is not None
    assert isinstance(low.value, tuple)
    assert low.value[0] < math.radians(-3.5)


def test_a_gap_may_be_wider_than_in_the_worst_case_and_the_sentence_says_so() -> None:
    assert "it may be less by" in said("gap-marks", "as-reckoned", {}, "alternator").message
    assert "they may differ by" in said("network-check", "resistance-as-reckoned", {}).message


def test_nothing_is_explained_where_both_agree() -> None:
    for rule, demand in (("crank-drop", "feed-as-reckoned"), ("speedometer", "shown-as-reckoned")):
        assert "likely" not in said(rule, demand, {}).message


@pytest.mark.parametrize(
    ("deg", "words", "no_words"),
    [
        # planned 3°, on the bump stop 11°, hanging -5°. 10.9° is 99 % of the way up: 9.9 times the usual tenth, while
        # 7.9° of setting would be 15.8 times its half degree. 11.4° is beyond the stop: 8.4° of setting
        ("10.9 deg", "99 % of the way to its bump stop", ""),
        ("11.4 deg", "set 8.4° off its planned slope", "stop"),
        ("-4.9 deg", "99 % of the way to its droop stop", ""),
        ("-5.4 deg", "set 8.4° off its planned slope", "stop"),
    ],
)
def test_a_vehicle_stands_no_further_off_than_its_stops(deg: str, words: str, no_words: str) -> None:
    joint = "driveline.shafts.rear.input_joint"
    edits = {
        f"{joint}.ride": "3 deg",
        f"{joint}.bump": "11 deg",
        f"{joint}.droop": "-5 deg",
        f"{M}.laden.shafts.rear.input": {"value": deg, "tol": "0.01 deg"},
    }
    message = said("laden-angles", "as-reckoned.input", edits, "rear").message
    assert words in message
    assert not no_words or no_words not in message


@pytest.mark.parametrize(("bump", "told"), [("-3 deg", True), (None, False)])
def test_without_both_stops_no_height_is_blamed(bump: str | None, told: bool) -> None:
    edits = {
        "driveline.shafts.rear.input_joint.bump": bump,
        f"{M}.laden.shafts.rear.input": {"value": "-9 deg", "tol": "0.01 deg"},
    }
    # 6° off -3°: 12 times half a degree; three quarters of the 8° to the droop stop are 7.5 tenths
    message = said("laden-angles", "as-reckoned.input", edits, "rear").message
    assert ("75 % of the way to its droop stop" in message) is told
    assert ("set 6.0° off" in message) is True


@pytest.mark.parametrize(
    ("reads", "words"),
    [
        # 350 mm at rest and 16.19 mm of movement: 39 mm are left where the mounts give way by 311 mm, 0.052 as stiff.
        # 20 mm would take 0.0491, softer than anything: the gap at rest was another, 36 mm
        ("39 mm", "as if 0.052 times as stiff"),
        ("20 mm", "Most likely a gap at rest of 36 mm instead of 350 mm. To settle it"),
    ],
)
def test_mounts_are_no_softer_than_a_twentieth(reads: str, words: str) -> None:
    edits = {
        "vehicle.clearances.alternator.gap": "350 mm",
        f"{M}.launch.gaps.alternator.least": {"value": reads, "tol": "0.1 mm"},
    }
    assert words in said("gap-marks", "as-reckoned", edits, "alternator").message


def test_a_gap_that_nothing_moves_is_blamed_on_nothing_but_itself() -> None:
    # a bus of two terminators reads 60 Ω; 200 kΩ are explained by no number of them
    found = said("network-check", "resistance-as-reckoned", {f"{M}.bus.resistance": "20 kohm"})
    assert "Nothing that the prediction takes for granted explains it alone" in found.message


@pytest.mark.parametrize(
    ("ohms", "words"),
    [
        # one terminator of 120 Ω within 10 %: 108 to 132 Ω; three of them 36 to 44 Ω
        ("120 ohm", "Most likely a terminator that is missing or open"),
        ("131 ohm", "Most likely a terminator that is missing or open"),
        ("136 ohm", "Nothing that the prediction takes for granted"),
        ("45 ohm", "Most likely a terminator that nobody listed"),
    ],
)
def test_terminators_too_many_and_too_few(ohms: str, words: str) -> None:
    assert words in said("network-check", "resistance-as-reckoned", {f"{M}.bus.resistance": exact(ohms)}).message


# -- the speedometer and the engine's speed ----------------------------------------------------------------------------
@pytest.mark.parametrize(
    ("turns", "words"),
    [
        # 2099 r/min reckoned. 2308.9 is a tenth more: the converter slips by a tenth, twice what is usual
        ("2308.9 r/min", "a torque converter that slips by 10 %"),
        # no converter makes the engine turn slower: tyres of 806/0.9 = 895.6 mm
        ("1889.1 r/min", "tyres of 896 mm diameter"),
    ],
)
def test_a_converter_slips_one_way_only(turns: str, words: str) -> None:
    edits = {"driveline.converter.fitted": True, f"{M}.road.engine_speed": exact(turns)}
    message = said("speedometer", "engine-speed-as-reckoned", edits).message
    assert words in message
    assert ("converter" in message) is ("converter" in words)


def test_without_a_converter_nothing_slips() -> None:
    edits = {f"{M}.road.engine_speed": exact("2308.9 r/min")}
    message = said("speedometer", "engine-speed-as-reckoned", edits).message
    # tyres of 806/1.1 = 732.7 mm; an overall ratio of 3.87·1.1 = 4.257
    assert "Most likely tyres of 733 mm diameter instead of 806 mm." in message
    assert "converter" not in message


@pytest.mark.parametrize(
    ("shows", "words"),
    [
        ("90.64 km/h", "a drive of the speedometer that is 10 % fast"),  # 1.1·82.4
        ("74.16 km/h", "a drive of the speedometer that is 10 % slow"),  # 0.9·82.4
    ],
)
def test_a_drive_of_the_speedometer_is_fast_or_slow(shows: str, words: str) -> None:
    # tyres that are measured as stated are out of it: 2099 r/min at 80 km/h
    edits = {f"{M}.road.indicated_speed": exact(shows), f"{M}.road.engine_speed": exact("2099 r/min")}
    assert words in said("speedometer", "shown-as-reckoned", edits).message


def test_tyres_are_called_by_what_is_stated_of_them() -> None:
    # 80 km/h at 1889.1 r/min: the tyres roll 1/0.9 as far. 2458 mm of circumference, 2731 mm then
    edits = {
        "driveline.tyres.rolling_circumference": "2458.3 mm",
        f"{M}.road.indicated_speed": exact("74.16 km/h"),
        f"{M}.road.engine_speed": exact("1889.1 r/min"),
    }
    message = said("speedometer", "shown-as-reckoned", edits).message
    assert "As measured it is tyres of 273" in message
    assert "mm circumference" in message


# -- the shift ---------------------------------------------------------------------------------------------------------
def test_a_shift_without_loss_slips_or_is_another_gear() -> None:
    # 3200·0.9/1.15 = 2504.3 r/min; 2754.8 is a tenth more, two twentieths of slip; the step would be ten hundredths off
    edits = {
        "driveline.gearbox.shift_speed_loss": "0 r/min",
        f"{M}.shifting.after": exact("2754.8 r/min"),
        f"{M}.shifting.before": exact("3200 r/min"),
    }
    message = said("shift-points", "lands-as-reckoned", edits).message
    assert "2504 r/min reckoned" in message or "2500 r/min reckoned" in message
    assert "a clutch or converter that slips by 10 % after the shift" in message


def test_another_gear_explains_a_shift() -> None:
    # 2700 r/min, more than the 2504 of a shift that loses nothing: (2700 + 150)/3200 = 0.8906, a next gear of 1.024
    edits = {f"{M}.shifting.after": exact("2700 r/min"), f"{M}.shifting.before": exact("3200 r/min")}
    message = said("shift-points", "lands-as-reckoned", edits).message
    assert "Most likely a next gear of 1.02 instead of 0.9, or another shift than the one noted. To settle" in message
    # 1750 r/min: 754 r/min are lost instead of 150, ln 5.03/ln 1.333 = 5.6 spreads; the gear would be 27 off
    edits = {f"{M}.shifting.after": exact("1750 r/min"), f"{M}.shifting.before": exact("3200 r/min")}
    message = said("shift-points", "lands-as-reckoned", edits).message
    assert "Most likely a shift that loses 75" in message
    assert "gear of" not in message


# -- the weighbridge ---------------------------------------------------------------------------------------------------
@pytest.mark.parametrize(
    ("front", "rear", "words", "no_words"),
    [
        # 1086.1 and 771.9 kg by the ledger. 50 kg more on one axle and 50 less on the other: something stands elsewhere
        ("1136.1 kg", "721.9 kg", "50 kg more than the ledger has on that axle, as where something stands", "in all"),
        # 50 and 10 kg less: 60 kg are not there, 10/60·2900 = 483 mm behind the front axle
        (
            "1036.1 kg",
            "761.9 kg",
            "50 kg less than the ledger has on that axle: in all 60 kg, as if 48",
            "further along",
        ),
        # nobody read the other axle
        ("1136.1 kg", None, "50 kg more than the ledger has.", "on that axle"),
    ],
)
def test_what_the_ledger_has_too_much_or_too_little_of(front: str, rear: str | None, words: str, no_words: str) -> None:
    edits = {
        f"{M}.weighing.front": exact(front),
        f"{M}.weighing.rear": rear and exact(rear),
        f"{M}.weighing.whole": None,
    }
    message = said("weighed-masses", "front-as-reckoned", edits).message
    assert words in message
    assert no_words not in message
