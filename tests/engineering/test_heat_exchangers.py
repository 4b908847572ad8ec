"""Heat exchangers against textbooks and the `ht` library."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from swaplint.engineering import ImpossibleInput, OutsideRange
from swaplint.engineering import heat_exchangers as hx
from swaplint.engineering.heat_exchangers import FlowArrangement as Arrangement
from swaplint.engineering.roots import crossing

ARRANGEMENTS = st.sampled_from(list(Arrangement))
NTUS = st.floats(0.0, 20.0)
RATIOS = st.floats(0.0, 1.0)
RATES = st.floats(10.0, 1e5)

HT_NAMES = {
    Arrangement.COUNTERFLOW: "counterflow",
    Arrangement.PARALLEL_FLOW: "parallel",
    Arrangement.CROSSFLOW_UNMIXED: "crossflow",
    Arrangement.CROSSFLOW_LARGER_MIXED: "crossflow, mixed Cmax",
    Arrangement.CROSSFLOW_SMALLER_MIXED: "crossflow, mixed Cmin",
    Arrangement.SHELL_AND_TUBE: "S&T",
}


def conductance(heat: float, one_rate: float, other_rate: float, difference: float, arrangement: Arrangement) -> float:
    """UA, W/K, from the heat that is moved between two capacity rates at a difference of the inlets."""
    return hx.ua_from_test(heat, one_rate, other_rate, 300.0 + difference, 300.0, arrangement)


@pytest.mark.parametrize("arrangement", list(Arrangement))
@pytest.mark.parametrize("ratio", [0.01, 0.25, 0.6, 0.999, 1.0])
@pytest.mark.parametrize("ntu", [0.01, 0.5, 1.0, 2.5, 6.0, 15.0])
def test_effectiveness_against_ht_library(arrangement: Arrangement, ratio: float, ntu: float) -> None:
    # ht 1.2.0 solves crossflow, both unmixed, by another route: Triboix's integral (2009).
    ht = pytest.importorskip("ht")
    expected = ht.effectiveness_from_NTU(NTU=ntu, Cr=ratio, subtype=HT_NAMES[arrangement])
    assert hx.effectiveness(ntu, ratio, arrangement) == pytest.approx(expected, rel=1e-8)


@pytest.mark.parametrize(
    ("arrangement", "ntu", "ratio", "expected", "tolerance"),
    [
        # Kays & London, Compact Heat Exchangers, table for crossflow, both unmixed (from memory)
        pytest.param(Arrangement.CROSSFLOW_UNMIXED, 1.0, 1.0, 0.476, 0.0006, id="Kays-London NTU 1"),
        pytest.param(Arrangement.CROSSFLOW_UNMIXED, 2.0, 1.0, 0.614, 0.0006, id="Kays-London NTU 2"),
        # Nellis & Klein, library example: 0.7632 with the approximate formula, which lies 1 % high
        pytest.param(Arrangement.CROSSFLOW_UNMIXED, 2.5, 0.6, 0.7632, 0.008, id="Nellis-Klein approximate"),
        # Cengel, Heat and Mass Transfer, example 11-8, geothermal brine and water (from memory)
        pytest.param(Arrangement.COUNTERFLOW, 0.651, 0.583, 0.428, 0.0006, id="Cengel 11-8"),
        # Cengel example 11-9, oil in one shell pass, read off the chart as 0.47 (from memory)
        pytest.param(Arrangement.SHELL_AND_TUBE, 0.854, 0.764, 0.47, 0.01, id="Cengel 11-9"),
        # Holman, Heat Transfer, example 10-9, steam mixed and oil: 0.831 (as carried in the ht manual)
        pytest.param(Arrangement.CROSSFLOW_LARGER_MIXED, 2.16007, 0.142421, 0.831218, 1e-5, id="Holman 10-9"),
        # Hand value: equal rates in parallel flow approach (1 − e^−2)/2
        pytest.param(Arrangement.PARALLEL_FLOW, 1.0, 1.0, 0.5 * (1 - math.exp(-2)), 1e-12, id="parallel"),
        pytest.param(Arrangement.COUNTERFLOW, 2.0, 1.0, 2.0 / 3.0, 1e-12, id="counterflow equal rates"),
    ],
)
def test_effectiveness_against_textbooks(
    arrangement: Arrangement, ntu: float, ratio: float, expected: float, tolerance: float
) -> None:
    assert hx.effectiveness(ntu, ratio, arrangement) == pytest.approx(expected, abs=tolerance)


def test_radiator_of_cengel_example_11_6() -> None:
    # Cengel example 11-6: water 0.6 kg/s (cp 4195) 90 -> 65 °C, air 20 -> 40 °C, 40 tubes of 5 mm x 0.65 m.
    # Printed: 62 925 W and U = 3347 W/(m²·K) with the correction factor 0.97 read off a chart.
    water = hx.capacity_rate(0.6, 4195.0)
    heat = water * 25.0
    assert heat == pytest.approx(62925.0)
    air = heat / 20.0
    area = 40 * math.pi * 0.005 * 0.65
    ua = conductance(heat, water, air, 363.15 - 293.15, Arrangement.CROSSFLOW_UNMIXED)
    assert ua / area == pytest.approx(3347.0, rel=0.005)


def test_exhaust_recuperator_of_incropera_example_11_3() -> None:
    # Incropera & DeWitt: gas 300 -> 100 °C, water 1 kg/s (cp 4197) 35 -> 125 °C, U = 100 W/(m²·K); the chart
    # gives NTU 2.1 and about 40 m² (result from memory).
    water = 4197.0
    heat = water * 90.0
    gas = heat / 200.0
    ua = conductance(heat, gas, water, 573.15 - 308.15, Arrangement.CROSSFLOW_UNMIXED)
    assert ua / gas == pytest.approx(2.1, abs=0.1)
    assert ua / 100.0 == pytest.approx(40.0, rel=0.05)


def test_air_cooler_of_som_example_10_7() -> None:
    # S. K. Som, Introduction to Heat Transfer, example 10.7: air 10 kg/s (1.01 kJ/kgK) at 125 °C, water
    # 7 kg/s (4.18) at 20 °C, U = 220, A = 250 m²; printed outlet of the air 26 °C.
    air, water = 10100.0, 29260.0
    eps = hx.effectiveness_from_ua(220.0 * 250.0, air, water, Arrangement.CROSSFLOW_UNMIXED)
    heat = hx.heat_flow(eps, air, water, 398.15, 293.15)
    assert 125.0 - heat / air == pytest.approx(26.0, abs=1.0)


def test_oil_heater_of_holman_example_10_9() -> None:
    # Holman example 10-9 as carried in the manual of ht: 131 675 W, outlets 110.59 and 116.386 °C.
    steam, oil = 5.2 * 1860.0, 0.725 * 1900.0
    eps = hx.effectiveness_from_ua(275.0 * 10.82, steam, oil, Arrangement.CROSSFLOW_LARGER_MIXED)
    heat = hx.heat_flow(eps, steam, oil, 403.15, 288.15)
    assert heat == pytest.approx(131675.3, rel=1e-6)
    assert (130.0 - heat / steam, 15.0 + heat / oil) == pytest.approx((116.386, 110.590), abs=1e-3)


def test_air_heater_of_holman_example_10_11() -> None:
    # Holman example 10-11: 2.36 m³/s of air 15.55 -> 29.44 °C takes 40.33 kW from water at 82.22 °C, U 227,
    # A 9.29 m². The book's chart trial gives 21.1 °C leaving water; the exact relation (ht) 22.1 °C.
    air = 40330.0 / (29.44 - 15.55)
    ua = 227.0 * 9.29

    def heat_at(water: float) -> float:
        eps = hx.effectiveness_from_ua(ua, water, air, Arrangement.CROSSFLOW_UNMIXED)
        return hx.heat_flow(eps, water, air, 355.37, 288.70)

    water = crossing(lambda rate: heat_at(rate) - 40330.0, 300.0, air)
    assert water == pytest.approx(670.7, rel=0.005)
    assert 82.22 - 40330.0 / water == pytest.approx(22.1, abs=0.3)


@given(ntu=st.floats(0.1, 10.0), ratio=st.floats(0.05, 1.0))
def test_common_approximation_of_crossflow_lies_within_four_per_cent(ntu: float, ratio: float) -> None:
    # Incropera & DeWitt print 1 − exp{NTU^0.22/C_r·[exp(−C_r·NTU^0.78) − 1]} as an approximation.
    approximate = 1 - math.exp(ntu**0.22 / ratio * (math.exp(-ratio * ntu**0.78) - 1))
    assert hx.effectiveness(ntu, ratio, Arrangement.CROSSFLOW_UNMIXED) == pytest.approx(approximate, rel=0.04)


@given(ntu=NTUS, step=st.floats(0.0, 5.0), ratio=RATIOS, arrangement=ARRANGEMENTS)
def test_more_transfer_units_never_lower_effectiveness(
    ntu: float, step: float, ratio: float, arrangement: Arrangement
) -> None:
    small, large = (hx.effectiveness(n, ratio, arrangement) for n in (ntu, ntu + step))
    assert 0.0 <= small <= large + 1e-12
    assert large <= 1.0


@given(ntu=NTUS, low=RATIOS, high=RATIOS, arrangement=ARRANGEMENTS)
def test_effectiveness_falls_as_the_capacity_ratio_grows(
    ntu: float, low: float, high: float, arrangement: Arrangement
) -> None:
    low, high = sorted((low, high))
    assert hx.effectiveness(ntu, high, arrangement) <= hx.effectiveness(ntu, low, arrangement) + 1e-9


@given(ntu=NTUS, ratio=RATIOS)
def test_counterflow_is_best_and_parallel_flow_worst(ntu: float, ratio: float) -> None:
    counter = hx.effectiveness(ntu, ratio, Arrangement.COUNTERFLOW)
    parallel = hx.effectiveness(ntu, ratio, Arrangement.PARALLEL_FLOW)
    unmixed = hx.effectiveness(ntu, ratio, Arrangement.CROSSFLOW_UNMIXED)
    for arrangement in Arrangement:
        value = hx.effectiveness(ntu, ratio, arrangement)
        assert parallel - 1e-9 <= value <= counter + 1e-9
    for mixed in (Arrangement.CROSSFLOW_LARGER_MIXED, Arrangement.CROSSFLOW_SMALLER_MIXED):
        assert hx.effectiveness(ntu, ratio, mixed) <= unmixed + 1e-9


@given(ntu=NTUS, arrangement=ARRANGEMENTS)
def test_condenser_and_evaporator_do_not_care_how_fluids_run(ntu: float, arrangement: Arrangement) -> None:
    assert hx.effectiveness(ntu, 0.0, arrangement) == pytest.approx(1 - math.exp(-ntu), abs=1e-12)
    assert hx.effectiveness(ntu, 1e-7, arrangement) == pytest.approx(1 - math.exp(-ntu), abs=1e-6)


@given(ntu=st.floats(1e-9, 1e-4), ratio=RATIOS, arrangement=ARRANGEMENTS)
def test_a_very_small_exchanger_moves_ua_times_inlet_difference(
    ntu: float, ratio: float, arrangement: Arrangement
) -> None:
    assert hx.effectiveness(ntu, ratio, arrangement) == pytest.approx(ntu, rel=2e-4)


@given(reached=st.floats(0.0, 0.999), ratio=RATIOS, arrangement=ARRANGEMENTS)
def test_transfer_units_give_back_the_effectiveness(reached: float, ratio: float, arrangement: Arrangement) -> None:
    target = reached * hx.effectiveness(50.0, ratio, arrangement)
    ntu = hx.ntu_from_effectiveness(target, ratio, arrangement)
    assert hx.effectiveness(ntu, ratio, arrangement) == pytest.approx(target, abs=1e-12)


@given(ua=st.floats(1.0, 1e4), one=RATES, other=RATES, unit=st.floats(0.01, 100.0))
def test_effectiveness_does_not_depend_on_order_or_units(ua: float, one: float, other: float, unit: float) -> None:
    if ua / min(one, other) > 90.0:
        return
    plain = hx.effectiveness_from_ua(ua, one, other, Arrangement.CROSSFLOW_UNMIXED)
    assert hx.effectiveness_from_ua(ua, other, one, Arrangement.CROSSFLOW_UNMIXED) == plain
    scaled = hx.effectiveness_from_ua(ua * unit, one * unit, other * unit, Arrangement.CROSSFLOW_UNMIXED)
    assert scaled == pytest.approx(plain, rel=1e-9)


@given(eps=st.floats(0.0, 1.0), hot=RATES, cold=RATES, inlet=st.floats(250.0, 350.0), rise=st.floats(0.0, 200.0))
def test_heat_balance_and_second_law(eps: float, hot: float, cold: float, inlet: float, rise: float) -> None:
    heat = hx.heat_flow(eps, hot, cold, inlet + rise, inlet)
    out = hx.outlet_temperatures(heat, hot, cold, inlet + rise, inlet)
    assert hot * (inlet + rise - out.hot) == pytest.approx(heat, rel=1e-6, abs=1e-6 * hot)
    assert cold * (out.cold - inlet) == pytest.approx(heat, rel=1e-6, abs=1e-6 * cold)
    assert out.hot >= inlet - 1e-9
    assert out.cold <= inlet + rise + 1e-9


@given(ua=st.floats(100.0, 5000.0), air=st.floats(200.0, 4000.0), arrangement=ARRANGEMENTS)
def test_conductance_comes_back_from_a_test_made_with_it(ua: float, air: float, arrangement: Arrangement) -> None:
    coolant = 9000.0
    if ua / air > 5.0:
        return
    heat = hx.heat_flow(hx.effectiveness_from_ua(ua, coolant, air, arrangement), coolant, air, 370.0, 310.0)
    assert conductance(heat, coolant, air, 60.0, arrangement) == pytest.approx(ua, rel=1e-5)


@pytest.mark.parametrize("ratio", [0.0, 1e-300, 0.01, 0.25, 0.6, 1.0])
@pytest.mark.parametrize("arrangement", list(Arrangement))
def test_an_endless_exchanger(arrangement: Arrangement, ratio: float) -> None:
    # the ht library at a hundred transfer units, where e^-100 is nothing; counterflow and both unmixed go on to one
    ht = pytest.importorskip("ht")
    if ratio < 0.01 or arrangement in (Arrangement.COUNTERFLOW, Arrangement.CROSSFLOW_UNMIXED):
        assert hx.effectiveness_limit(ratio, arrangement) == 1.0
    else:
        expected = ht.effectiveness_from_NTU(NTU=100.0, Cr=ratio, subtype=HT_NAMES[arrangement])
        assert hx.effectiveness_limit(ratio, arrangement) == pytest.approx(expected, rel=1e-9)


@pytest.mark.parametrize(("hot", "cold"), [(1000.0, 4000.0), (4000.0, 1000.0)])
def test_no_more_heat_is_moved_than_the_smaller_flow_can_take(hot: float, cold: float) -> None:
    # 1000 W/K times 60 K: 60 kW
    out = hx.outlet_temperatures(60e3, hot, cold, 360.0, 300.0)
    assert out == pytest.approx((360.0 - 60e3 / hot, 300.0 + 60e3 / cold))
    for refuses in (
        lambda heat: hx.outlet_temperatures(heat, hot, cold, 360.0, 300.0),
        lambda heat: hx.ua_from_test(heat, hot, cold, 360.0, 300.0, Arrangement.COUNTERFLOW),
    ):
        with pytest.raises(ImpossibleInput, match=r"heat of 60\.1 kW is more than 60 kW"):
            refuses(60.1e3)


def test_conductance_follows_the_exponents() -> None:
    # Dittus-Boelter: doubling a turbulent flow in tubes raises the film by 2^0.8 = 1.741 (Incropera).
    assert hx.ua_at_flow(1000.0, 2.0, 1.0, 0.8, 0.8, 1.0) == pytest.approx(1741.1, abs=0.1)
    # Two equal resistances, one of them halved: 1/(0.5 + 0.25) of the conductance (series resistances).
    assert hx.ua_at_flow(1000.0, 2.0, 1.0, 1.0, 0.8, 0.5) == pytest.approx(4000.0 / 3.0)


@given(air=st.floats(0.2, 5.0), coolant=st.floats(0.2, 5.0), part=st.floats(0.0, 1.0), more=st.floats(1.0, 1.2))
def test_more_flow_never_lowers_conductance(air: float, coolant: float, part: float, more: float) -> None:
    before = hx.ua_at_flow(1000.0, air, coolant, 0.51, 0.8, part)
    after = hx.ua_at_flow(1000.0, min(5.0, air * more), coolant, 0.51, 0.8, part)
    assert after >= before * (1 - 1e-12)
    assert hx.ua_at_flow(1000.0, 1.0, 1.0, 0.51, 0.8, part) == pytest.approx(1000.0)


@pytest.mark.parametrize(
    ("arrangement", "ratio", "limit"),
    [
        (Arrangement.PARALLEL_FLOW, 1.0, 0.5),
        (Arrangement.CROSSFLOW_LARGER_MIXED, 1.0, 0.6321),
        (Arrangement.CROSSFLOW_SMALLER_MIXED, 1.0, 0.6321),
        (Arrangement.SHELL_AND_TUBE, 1.0, 0.5858),
    ],
)
def test_effectiveness_out_of_reach_is_refused(arrangement: Arrangement, ratio: float, limit: float) -> None:
    # Asymptotes of the charts in Kays & London: 1/2, 1 − 1/e, 2/(2 + √2).
    assert hx.effectiveness(100.0, ratio, arrangement) == pytest.approx(limit, abs=5e-5)
    with pytest.raises(OutsideRange, match=f"it is {limit:.4g} even at 100 transfer units"):
        hx.ntu_from_effectiveness(limit + 0.001, ratio, arrangement)


@pytest.mark.parametrize(("ntu", "ratio"), [(50.0, 0.03), (80.0, 0.02), (100.0, 0.05)])
def test_a_huge_radiator_moves_all_and_no_more(ntu: float, ratio: float) -> None:
    # 1 - e^(-50·0.97) is 1 in every digit that is kept; what rounding adds must not pass it
    assert 1.0 - 1e-14 <= hx.effectiveness(ntu, ratio, Arrangement.CROSSFLOW_UNMIXED) <= 1.0


@pytest.mark.parametrize("bad", [-0.1, 1.1, math.nan, math.inf])
def test_impossible_shares_are_refused(bad: float) -> None:
    with pytest.raises(ImpossibleInput):
        hx.effectiveness(1.0, bad, Arrangement.COUNTERFLOW)
    with pytest.raises(ImpossibleInput):
        hx.heat_flow(bad, 1.0, 1.0, 300.0, 290.0)
    with pytest.raises(ImpossibleInput):
        hx.ntu_from_effectiveness(bad, 0.5, Arrangement.COUNTERFLOW)


def test_other_impossible_inputs_are_refused() -> None:
    with pytest.raises(ImpossibleInput):
        hx.capacity_rate(0.0, 1006.0)
    with pytest.raises(ImpossibleInput, match="colder"):
        hx.heat_flow(0.5, 1.0, 1.0, 290.0, 300.0)
    with pytest.raises(OutsideRange):
        hx.effectiveness(101.0, 0.5, Arrangement.COUNTERFLOW)
    with pytest.raises(OutsideRange):
        hx.ua_at_flow(1000.0, 0.1, 1.0, 0.5, 0.8, 0.9)


def test_all_of_the_heat_is_moved_by_no_exchanger() -> None:
    # 1 - e^-70 is one in every digit that is kept, and still no size of exchanger moves all
    with pytest.raises(OutsideRange, match=r"effectiveness 1 is out of reach in counterflow at capacity ratio 0\.3"):
        hx.ntu_from_effectiveness(1.0, 0.3, Arrangement.COUNTERFLOW)
