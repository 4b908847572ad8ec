"""Conductors against published tables and their limiting cases."""

import math

import fluids
import pytest
from hypothesis import given
from hypothesis import strategies as st

from swaplint.engineering import conductors as c
from swaplint.engineering.conductor_tables import (
    AWG_AMPACITY,
    AWG_ENGINE_SPACE_FACTOR,
    AWG_GAUGES,
    CLASS_5_OHM_PER_KM,
    METRIC_AMPACITY,
    SAE_CIRCULAR_MILS,
)
from swaplint.engineering.guards import ImpossibleInput, OutsideRange

C70, C105 = 343.15, 378.15
areas = st.floats(0.5e-6, 240e-6)
temperatures = st.floats(213.15, 473.15)


# Diameter and area ------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("gauge", "mm"),
    # Published wire table (inch diameters rounded to four decimals, then converted).
    [(0, 8.2525), (4, 5.1892), (10, 2.5883), (12, 2.0523), (18, 1.0236)],
)
def test_awg_diameter_agrees_with_a_published_wire_table(gauge: int, mm: float) -> None:
    assert c.awg_diameter(gauge) * 1000 == pytest.approx(mm, rel=5e-4)


@pytest.mark.parametrize(
    ("gauge", "mm2"),
    # Least areas of vehicle cable as a cable seller's table prints them beside its circular mils.
    [(18, 0.78), (16, 1.18), (14, 1.88), (12, 2.96), (10, 4.73), (8, 7.50), (6, 12.43), (4, 18.93), (2, 31.64)],
)
def test_sae_area_agrees_with_a_published_table(gauge: int, mm2: float) -> None:
    assert c.sae_area(gauge) * 1e6 == pytest.approx(mm2, abs=0.006)


def test_vehicle_cable_has_up_to_a_ninth_less_copper_than_awg() -> None:
    less = {gauge: 1 - c.sae_area(gauge) / c.awg_area(gauge) for gauge in SAE_CIRCULAR_MILS}
    assert all(0.025 < share < 0.115 for share in less.values())
    assert sorted(less, key=lambda gauge: -less[gauge])[:3] == [12, 4, 8]  # the three that a survey of tables names
    with pytest.raises(OutsideRange):
        c.sae_area(3)


@pytest.mark.parametrize("gauge", [4, 6, 8, 10, 12, 14, 16, 18, 20])
def test_awg_diameter_agrees_with_a_reference_library(gauge: int) -> None:
    # fluids 1.x carries the ASTM B258 table, in inches rounded to 0.0001.
    published = fluids.t_from_gauge(gauge, SI=True, schedule="AWG")
    assert c.awg_diameter(gauge) == pytest.approx(published, abs=0.5e-4 * 25.4e-3)


@pytest.mark.parametrize(
    ("gauge", "cmil"),
    # NEC chapter 9 table 8, circular mils of the gauge sizes, as reprinted publicly.
    [
        (14, 4110),
        (12, 6530),
        (10, 10380),
        (6, 26240),
        (4, 41740),
        (2, 66360),
        (0, 105600),
        (-1, 133100),
        (-3, 211600),
    ],
)
def test_awg_area_agrees_with_the_circular_mils_of_the_nec_table(gauge: int, cmil: float) -> None:
    circular_mil = math.pi / 4 * 25.4e-6**2
    assert c.awg_area(gauge) == pytest.approx(cmil * circular_mil, rel=1e-3)


def test_awg_halves_its_area_about_every_three_numbers() -> None:
    # ASTM B258: 39 steps from 4/0 (460 mil) to 36 (5 mil), both diameters exact by definition.
    assert c.awg_diameter(36) == pytest.approx(0.005 * 25.4e-3)
    assert c.awg_diameter(-3) == pytest.approx(0.460 * 25.4e-3)
    assert c.awg_area(10) / c.awg_area(13) == pytest.approx(2.0, rel=0.01)


def test_awg_sizes_are_not_taken_for_metric_ones() -> None:
    assert c.awg_area(-1) < 0.97 * 70e-6  # 2/0 AWG has 67.4 mm²
    assert all(c.awg_of(size.area) is None for size in c.METRIC_SERIES)
    assert [c.awg_of(size.area) for size in c.AWG_SERIES] == list(AWG_GAUGES.values())
    gauge_areas = [c.awg_area(g) for g in range(-3, 25)]
    nearest = min(abs(mm2 * c.MM2 / a - 1) for mm2 in CLASS_5_OHM_PER_KM for a in gauge_areas)
    assert nearest > 0.03


# Resistance -------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("mm2", "ohm_per_km"),
    # IEC 60228 class 5, plain copper, 20 °C, from public reprints of the table.
    [
        (0.5, 39.0),
        (0.75, 26.0),
        (1.0, 19.5),
        (1.5, 13.3),
        (2.5, 7.98),
        (4, 4.95),
        (6, 3.30),
        (16, 1.21),
        (25, 0.780),
        (35, 0.554),
        (50, 0.386),
        (70, 0.272),
        (120, 0.161),
        (240, 0.0801),
    ],
)
def test_metric_cable_has_the_class_5_resistance(mm2: float, ohm_per_km: float) -> None:
    assert c.resistance_per_metre(mm2 * 1e-6) * 1000 == pytest.approx(ohm_per_km, rel=1e-12)


@pytest.mark.parametrize(
    ("mm2", "mohm_per_m"),
    # ISO 6722-1, road vehicle cables, plain copper, 20 °C: from memory, so that this is a cross-check and no more.
    [(0.5, 37.1), (1.0, 18.5), (1.5, 12.7), (4, 4.71), (6, 3.14), (10, 1.82), (16, 1.16), (25, 0.743), (50, 0.368)],
)
def test_class_5_limit_is_on_the_safe_side_of_vehicle_cable(mm2: float, mohm_per_m: float) -> None:
    assert 1.03 < c.resistance_per_metre(mm2 * 1e-6) * 1000 / mohm_per_m < 1.06


def test_resistivity_is_that_of_the_annealed_copper_standard() -> None:
    # IEC 60028: 58 MS/m at 20 °C, 0.017241 Ω·mm²/m.
    assert c.solid_resistance_per_metre(1e-6) == pytest.approx(0.017241, rel=1e-4)


@pytest.mark.parametrize(
    ("gauge", "cmil"),
    # A boat-cable table's column of the least area of cable that is sold by an SAE gauge number, circular mils.
    [(18, 1537), (16, 2336), (14, 3702), (10, 9343), (8, 14810), (-1, 125100), (-3, 205500)],
)
def test_cable_sold_by_an_automotive_gauge_has_up_to_11_per_cent_less_copper(gauge: int, cmil: float) -> None:
    circular_mil = math.pi / 4 * 25.4e-6**2
    assert 0.89 < cmil * circular_mil / c.awg_area(gauge) < 0.98


@pytest.mark.parametrize("mm2", CLASS_5_OHM_PER_KM)
def test_class_5_limit_lies_above_solid_copper_of_the_nominal_area(mm2: float) -> None:
    # No conductor beats ρ/A; IEC 60228 leaves 10 to 16 % for stranding and drawing tolerance.
    assert 1.08 < c.resistance_per_metre(mm2 * 1e-6) / c.solid_resistance_per_metre(mm2 * 1e-6) < 1.17


@pytest.mark.parametrize(
    ("gauge", "ohm_per_km", "rel"),
    # Published wire table, solid copper at 20 °C, three-digit rounding.
    [(10, 3.28, 2e-3), (14, 8.28, 2e-3), (18, 20.94, 1e-3), (4, 0.82, 8e-3)],
)
def test_solid_awg_resistance_agrees_with_a_published_wire_table(gauge: int, ohm_per_km: float, rel: float) -> None:
    assert c.solid_resistance_per_metre(c.awg_area(gauge)) * 1000 == pytest.approx(ohm_per_km, rel=rel)


@pytest.mark.parametrize(
    ("gauge", "ohm_per_kft"),
    # NEC chapter 9 table 8, stranded uncoated copper at 75 °C, as reprinted publicly.
    [(6, 0.491), (4, 0.308), (2, 0.194), (0, 0.122), (-1, 0.0967), (-3, 0.0608)],
)
def test_stranded_awg_resistance_agrees_with_the_nec_table(gauge: int, ohm_per_kft: float) -> None:
    per_metre = c.resistance_per_metre(c.awg_area(gauge), 348.15)
    assert per_metre * 304.8 == pytest.approx(ohm_per_kft, rel=5e-3)


def test_solid_14_awg_at_75_c_agrees_with_the_nec_table() -> None:
    # NEC chapter 9 table 8: 14 AWG solid uncoated copper 3.07 Ω per 1000 ft at 75 °C.
    at_75 = c.solid_resistance_per_metre(c.awg_area(14)) * c.temperature_factor(348.15)
    assert at_75 * 304.8 == pytest.approx(3.07, rel=3e-3)


def test_temperature_factor() -> None:
    assert c.temperature_factor(293.15) == 1.0
    assert c.temperature_factor(348.15) == pytest.approx(1.21615, rel=1e-9)  # IEC 60028, 1 + 0.00393·55
    # IEC 60228 correction table, 0.820 at 75 °C and 1.064 at 5 °C: its rounded coefficient, within 0.5 %.
    assert c.temperature_factor(348.15) == pytest.approx(1 / 0.820, rel=5e-3)
    assert c.temperature_factor(278.15) == pytest.approx(1 / 1.064, rel=5e-3)


@pytest.mark.parametrize("kelvin", [200.0, 500.0])
def test_temperature_outside_the_linear_law_is_refused(kelvin: float) -> None:
    with pytest.raises(OutsideRange, match="linear law"):
        c.temperature_factor(kelvin)


@given(areas, areas)
def test_metric_resistance_never_rises_with_area(one: float, other: float) -> None:
    thin, thick = sorted((one, other))
    if c.awg_of(thin) is None and c.awg_of(thick) is None:
        assert c.resistance_per_metre(thick) <= c.resistance_per_metre(thin) * (1 + 1e-9)


@given(areas, temperatures, temperatures)
def test_resistance_rises_with_temperature_in_the_same_ratio_at_every_area(area: float, t0: float, t1: float) -> None:
    ratio = c.resistance_per_metre(area, t1) / c.resistance_per_metre(area, t0)
    assert ratio == pytest.approx(c.temperature_factor(t1) / c.temperature_factor(t0))


def test_area_between_entries_lies_between_its_neighbours() -> None:
    # Nominal 2 mm², sold as automotive 14 gauge; ρ/A plus stranding is below, the next smaller entry above.
    between = c.resistance_per_metre(2.0e-6)
    assert c.resistance_per_metre(2.5e-6) < between < c.resistance_per_metre(1.5e-6)
    assert between > c.solid_resistance_per_metre(2.0e-6)


@pytest.mark.parametrize("area", [0.3e-6, 300e-6])
def test_area_outside_the_table_is_refused(area: float) -> None:
    with pytest.raises(OutsideRange, match="flexible conductors"):
        c.resistance_per_metre(area)


@pytest.mark.parametrize("area", [0.0, -1e-6, math.nan, math.inf])
def test_impossible_area_is_refused(area: float) -> None:
    with pytest.raises(ImpossibleInput):
        c.resistance_per_metre(area)


def test_copper_clad_aluminium_has_the_resistance_of_its_conductivity() -> None:
    # ASTM B566 class 10A, at least 62.9 % IACS: 1.59 times copper.
    ratio = c.resistance_per_metre(25e-6, material=c.Material.COPPER_CLAD_ALUMINIUM) / c.resistance_per_metre(25e-6)
    assert ratio == pytest.approx(1 / 0.629, rel=0.01)


# Loops and voltage drop -------------------------------------------------------------------------


def test_loop_is_the_sum_of_its_parts() -> None:
    there, back = c.Segment(35e-6, 3.9), c.Segment(35e-6, 0.35)
    # By hand: 4.25 m × 0.554 mΩ/m (IEC 60228) + 6 × 0.03 mΩ + 0.1 mΩ = 2.6345 mΩ.
    assert c.loop_resistance([there, back], joints=6, other=0.1e-3) == pytest.approx(2.6345e-3)
    assert c.loop_resistance([]) == 0.0
    # The same loop in another order, and one way cut in two.
    halves = [c.Segment(35e-6, 1.95), back, c.Segment(35e-6, 1.95)]
    assert c.loop_resistance(halves, joints=6, other=0.1e-3) == pytest.approx(2.6345e-3)


def test_circular_mil_equation_gives_the_same_drop() -> None:
    # Boat-wiring equation CM = K·I·L/E with K = 10.75 Ω·cmil/ft.
    # Published example: 10 A, 21 ft, 0.36 V: 6271 cmil.
    area = 6271 * math.pi / 4 * 25.4e-6**2
    solid_drop = c.voltage_drop(10.0, c.solid_resistance_per_metre(area) * 21 * 0.3048)
    assert solid_drop == pytest.approx(0.36, rel=0.04)  # K = 10.37 at 20 °C; 10.75 is copper at 29 °C
    assert solid_drop * c.temperature_factor(302.4) == pytest.approx(0.36, rel=2e-3)


def test_loop_refuses_impossible_parts() -> None:
    with pytest.raises(ImpossibleInput):
        c.loop_resistance([c.Segment(35e-6, -1.0)])
    with pytest.raises(ImpossibleInput):
        c.loop_resistance([], joints=-1)
    with pytest.raises(ImpossibleInput):
        c.loop_resistance([], other=-1e-3)


@given(areas, st.floats(0.1e-3, 10e-3), st.floats(0.0, 5e-3))
def test_longest_conductor_just_fills_the_limit(area: float, limit: float, other: float) -> None:
    length = c.longest_conductor(limit, area, other)
    if other >= limit:
        assert length == 0.0
    else:
        assert c.loop_resistance([c.Segment(area, length)], other=other) == pytest.approx(limit)


# Current rating ---------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("gauge", "celsius", "amps"),
    # US 33 CFR 183.425 table 5.
    [
        (12, 90, 40),
        (10, 60, 40),
        (10, 105, 60),
        (8, 75, 65),
        (6, 105, 120),
        (4, 105, 160),
        (2, 80, 175),
        (0, 105, 285),
        (-1, 105, 330),
        (-3, 200, 510),
    ],
)
def test_awg_ampacity_is_the_regulation_table(gauge: int, celsius: float, amps: float) -> None:
    assert c.ampacity(c.awg_area(gauge), c.Installation(celsius + 273.15)) == pytest.approx(amps)


@pytest.mark.parametrize(
    ("gauge", "bundled", "amps"),
    # Boat-cable trade table to UL 1426, 105 °C, inside engine space, printed to 0.1 A.
    [(18, 1, 17), (14, 1, 29.8), (2, 1, 178.5), (-1, 2, 280.5), (10, 3, 35.7), (6, 5, 61.2), (-3, 7, 189.1)],
)
def test_awg_ampacity_in_an_engine_space(gauge: int, bundled: int, amps: float) -> None:
    lies = c.Installation(C105, engine_space=True, bundled=bundled)
    assert c.ampacity(c.awg_area(gauge), lies) == pytest.approx(amps, abs=0.06)


@pytest.mark.parametrize(("celsius", "factor"), [(k, v) for k, v in AWG_ENGINE_SPACE_FACTOR.items() if k <= 125])
def test_engine_space_factors_follow_the_heat_balance(celsius: int, factor: float) -> None:
    # Heat ∝ I², ambient raised from 30 to 50 °C (33 CFR 183.425 table 5): factor = √((T−50)/(T−30)).
    assert factor == pytest.approx(math.sqrt((celsius - 50) / (celsius - 30)), abs=0.025)


def test_metric_table_agrees_with_the_awg_table() -> None:
    # Both are small-craft tables for single copper conductors: each metric entry at 105 °C lies no lower than
    # the next smaller gauge and no higher than the next larger one (33 CFR 183.425 table 5).
    awg = sorted((c.awg_area(g), amps) for g, amps in AWG_AMPACITY[105].items())
    for mm2, amps in METRIC_AMPACITY[105].items():
        below = [a for area, a in awg if area <= mm2 * 1e-6]
        above = [a for area, a in awg if area >= mm2 * 1e-6]
        assert not below or amps >= below[-1]
        assert not above or amps <= above[0]


@pytest.mark.parametrize(
    ("mm2", "amps"),
    # A cable maker's indicative continuous ratings of thin-wall vehicle cable to ISO 6722, ambient not stated.
    [(1.0, 16.5), (1.5, 21), (2.5, 29), (4, 39), (6, 50), (10, 70)],
)
def test_metric_table_brackets_a_trade_rating_of_vehicle_cable(mm2: float, amps: float) -> None:
    assert METRIC_AMPACITY[70][mm2] <= amps <= METRIC_AMPACITY[105][mm2]


def test_size_between_entries_takes_the_next_smaller_entry() -> None:
    lies = c.Installation(C105)
    assert c.ampacity(69.0e-6, lies) == c.ampacity(50e-6, lies) == 270
    assert c.ampacity(70.0e-6, lies) == 330
    assert c.ampacity(5.0e-6, lies) == c.ampacity(4.0e-6, lies) == 45


def test_insulation_between_classes_takes_the_next_lower_class() -> None:
    assert c.ampacity(25e-6, c.Installation(363.15)) == c.ampacity(25e-6, c.Installation(C70)) == 120
    assert c.ampacity(c.awg_area(4), c.Installation(C70)) == 105  # 60 °C column


@pytest.mark.parametrize(
    ("area", "celsius"),
    [(0.75e-6, 105), (150e-6, 105), (95e-6, 70), (25e-6, 60), (c.awg_area(20), 105), (c.awg_area(4), 50)],
)
def test_ampacity_never_extrapolates(area: float, celsius: float) -> None:
    with pytest.raises(OutsideRange):
        c.ampacity(area, c.Installation(celsius + 273.15))


def test_ampacity_table_is_for_copper() -> None:
    with pytest.raises(OutsideRange, match="copper-clad"):
        c.ampacity(25e-6, c.Installation(C105), c.Material.COPPER_CLAD_ALUMINIUM)


@given(
    st.sampled_from([*c.METRIC_SERIES, *c.AWG_SERIES]),
    st.sampled_from([60, 70, 75, 80, 90, 105, 125, 200]),
    st.booleans(),
    st.integers(1, 40),
)
def test_heat_and_company_never_raise_the_rating(
    size: c.ConductorSize, celsius: float, hot: bool, bundled: int
) -> None:
    try:
        alone = c.ampacity(size.area, c.Installation(celsius + 273.15))
    except OutsideRange:
        return
    lies = c.ampacity(size.area, c.Installation(celsius + 273.15, hot, bundled))
    more = c.ampacity(size.area, c.Installation(celsius + 273.15, hot, bundled + 1))
    assert 0 < more <= lies <= alone


def test_bundle_has_a_conductor() -> None:
    with pytest.raises(ImpossibleInput):
        c.bundle_factor(0)


def test_bundle_factors_are_the_printed_ones() -> None:
    # Boat-cable tables to ABYC E-11: 3: 0.70, 4-6: 0.60, 7-24: 0.50, 25 and more: 0.40.
    printed = {1: 1.0, 2: 1.0, 3: 0.7, 4: 0.6, 6: 0.6, 7: 0.5, 24: 0.5, 25: 0.4, 100: 0.4}
    assert {n: c.bundle_factor(n) for n in printed} == printed


# Choice -----------------------------------------------------------------------------------------


def test_smallest_size_is_the_first_that_passes_both() -> None:
    drop_only = c.smallest_size(c.METRIC_SERIES, length=6.2, resistance_limit=0.25 / 120)
    assert drop_only is not None
    # By hand, IEC 60228: 6.2 m × 0.386 = 2.393 mΩ > 2.083 mΩ; × 0.272 = 1.686 mΩ passes.
    assert drop_only.label == "70 mm²"
    carrying = c.smallest_size(
        c.METRIC_SERIES,
        length=6.2,
        resistance_limit=0.5 / 80,
        current=170.0,
        installation=c.Installation(C105, engine_space=True),
    )
    assert carrying is not None
    assert carrying.label == "35 mm²"  # 25 mm² passes the drop (4.836 mΩ) but carries 144.5 A
    assert c.smallest_size(c.METRIC_SERIES, length=50.0, resistance_limit=1e-3) is None


@given(st.floats(0.5, 20), st.floats(0.5e-3, 20e-3), st.floats(1, 300))
def test_no_smaller_size_would_pass(length: float, limit: float, current: float) -> None:
    lies = c.Installation(C105)
    for series in (c.METRIC_SERIES, c.AWG_SERIES):
        chosen = c.smallest_size(series, length=length, resistance_limit=limit, current=current, installation=lies)
        for size in series:
            if size == chosen:
                assert c.loop_resistance([c.Segment(size.area, length)]) <= limit
                assert c.ampacity(size.area, lies) >= current
                break
            too_thin = c.loop_resistance([c.Segment(size.area, length)]) > limit
            try:
                too_hot = c.ampacity(size.area, lies) < current
            except OutsideRange:
                too_hot = True
            assert too_thin or too_hot


def test_short_time_rating() -> None:
    assert c.short_time_ampacity(170.0, 59.0) == pytest.approx(221.0)
    assert c.short_time_ampacity(170.0, 61.0) == 170.0
    with pytest.raises(ImpossibleInput):
        c.short_time_ampacity(170.0, 0.0)


@pytest.mark.parametrize(
    ("area", "gauge"),
    [
        (c.awg_area(24), 24),
        (c.awg_area(-3), -3),
        (0.127e-3**2 * math.pi / 4 * 92 ** (22 / 39), None),  # 25 AWG is not sold here
        (0.127e-3**2 * math.pi / 4 * 92 ** (80 / 39), None),  # one above 4/0
        (1.0049 * c.awg_area(10), 10),
        (1.0051 * c.awg_area(10), None),
        (0.9951 * c.awg_area(10), 10),
        (0.9949 * c.awg_area(10), None),
    ],
)
def test_half_a_per_cent_is_the_same_gauge(area: float, gauge: int | None) -> None:
    assert c.awg_of(area) == gauge


def test_a_size_is_known_within_half_a_per_cent_at_both_ends_of_a_table() -> None:
    # IEC 60228, class 5: 39.0 Ω/km at 0.5 mm², 0.0801 at 240 mm²
    assert c.resistance_per_metre(0.49751e-6) * 1e3 == pytest.approx(39.0)
    assert c.resistance_per_metre(241.19e-6) * 1e3 == pytest.approx(0.0801)
    for area in (0.4974e-6, 241.21e-6):
        with pytest.raises(OutsideRange, match="flexible conductors"):
            c.resistance_per_metre(area)
    # ISO 10133: 20 A at 1 mm², 450 A at 120 mm² with insulation for 105 °C; 270 A at 50 mm², 330 A at 70 mm²
    for area, amps in ((0.9951e-6, 20), (120.59e-6, 450), (69.66e-6, 330), (69.64e-6, 270)):
        assert c.ampacity(area, c.Installation(C105)) == amps
    for area in (0.9949e-6, 120.61e-6):
        with pytest.raises(OutsideRange, match="outside the current-rating table, 1 to 120 mm²"):
            c.ampacity(area, c.Installation(C105))
    # 33 CFR 183.425 table 5: 445 A at 4/0, and no more of it
    for share in (0.9951, 1.0, 1.0049):
        assert c.ampacity_at_most(share * c.awg_area(-3), c.Installation(C105)) == 445.0
        assert c.ampacity_between_gauges(share * c.awg_area(-3), c.Installation(C105)) == 445.0
    for call in (c.ampacity_at_most, c.ampacity_between_gauges):
        with pytest.raises(OutsideRange):
            call(1.0051 * c.awg_area(-3), c.Installation(C105))
    assert c.ampacity_at_most(1.0049 * c.awg_area(8), c.Installation(C105)) == 80.0
    assert c.ampacity_at_most(1.0051 * c.awg_area(8), c.Installation(C105)) == 120.0


def test_between_two_gauges_the_current_is_a_power_of_the_area() -> None:
    # 33 CFR 183.425 table 5, 105 °C: 60 A at 10 AWG, 80 A at 8 AWG; at their geometric mean √(60·80) = 69.28 A
    middle = math.sqrt(c.awg_area(10) * c.awg_area(8))
    assert c.ampacity_between_gauges(middle, c.Installation(C105)) == pytest.approx(math.sqrt(4800))
    # 60 and 75 °C: 10 A at 18 AWG, 15 A at 16 AWG; above 200 °C the column for 200 °C: 25 A and 35 A
    middle = math.sqrt(c.awg_area(18) * c.awg_area(16))
    for celsius, amps in ((50, math.sqrt(150)), (60, math.sqrt(150)), (75, math.sqrt(150)), (250, math.sqrt(875))):
        assert c.ampacity_between_gauges(middle, c.Installation(celsius + 273.15)) == pytest.approx(amps)
    # in an engine space with five in a bundle: 0.85·0.6
    lies = c.Installation(C105, engine_space=True, bundled=5)
    assert c.ampacity_between_gauges(c.awg_area(10), lies) == pytest.approx(60 * 0.85 * 0.6)
    middle = math.sqrt(c.awg_area(10) * c.awg_area(8))
    assert c.ampacity_between_gauges(middle, lies) == pytest.approx(math.sqrt(4800) * 0.85 * 0.6)
    # from 18 AWG, 0.823 mm² in any wire table, to 4/0, 107.2 mm²
    with pytest.raises(OutsideRange, match=r"area 0\.5 mm² is outside the table of gauges, 0\.823 to 107\.2 mm²"):
        c.ampacity_between_gauges(0.5e-6, c.Installation(C105))


def test_vehicle_cable_has_the_current_of_its_copper() -> None:
    # 10 AWG: 60 A at 10 380 circular mils, the SAE 10 has 9343: 60·9343/10 383 = 53.99 A
    assert c.ampacity(c.sae_area(10), c.Installation(C105)) == pytest.approx(53.99, abs=0.01)
    assert c.sae_of(c.sae_area(10)) == 10
    assert c.sae_of(1.00001 * c.sae_area(10)) is None


def test_the_smallest_size_may_just_fill_its_limits() -> None:
    # 0.386 Ω/km at 50 mm² (IEC 60228), 170 A at 25 mm² for 105 °C (ISO 10133)
    fifty = next(size for size in c.METRIC_SERIES if size.label == "50 mm²")
    limit = c.resistance_per_metre(fifty.area) * 6.2
    fills = c.smallest_size(c.METRIC_SERIES, length=6.2, resistance_limit=limit)
    thicker = c.smallest_size(c.METRIC_SERIES, length=6.2, resistance_limit=limit * 0.9999)
    with_other = c.smallest_size(c.METRIC_SERIES, length=6.2, resistance_limit=limit, other=1e-6)
    assert [size.label for size in (fills, thicker, with_other) if size] == ["50 mm²", "70 mm²", "70 mm²"]
    for current, label in ((170.0, "25 mm²"), (170.1, "35 mm²"), (0.0, "1 mm²")):
        lies = c.Installation(C105)
        carries = c.smallest_size(c.METRIC_SERIES, length=1.0, current=current, installation=lies)
        assert carries is not None
        assert carries.label == label
    hot = c.Installation(C105, air=C105)  # where it may not carry anything, and is asked to carry nothing
    idle = c.smallest_size(c.METRIC_SERIES, length=1.0, installation=hot)
    assert idle is not None
    assert c.smallest_size(c.METRIC_SERIES, length=1.0, current=0.1, installation=hot) is None
    unasked = c.smallest_size(c.METRIC_SERIES, length=1.0, current=170.0)
    assert unasked is not None
    assert unasked.label == "0.5 mm²"


def test_the_longest_conductor_by_hand() -> None:
    # (2.0 - 0.336) mΩ at 0.554 mΩ/m are 3.0036 m; 2 mΩ without anything else 3.610 m
    assert c.longest_conductor(2e-3, 35e-6, other=0.336e-3) == pytest.approx(3.0036, abs=1e-4)
    assert c.longest_conductor(2e-3, 35e-6) == pytest.approx(3.6101, abs=1e-4)


def test_conductors_side_by_side() -> None:
    # Two equal ones have half the resistance, ten to one leave ten elevenths of the smaller.
    assert c.side_by_side([4.0e-3, 4.0e-3]) == pytest.approx(2.0e-3)
    assert c.side_by_side([1.0e-3, 10.0e-3]) == pytest.approx(10.0e-3 / 11)
    assert c.side_by_side([3.0e-3]) == pytest.approx(3.0e-3)
    with pytest.raises(ImpossibleInput):
        c.side_by_side([1.0e-3, 0.0])


@pytest.mark.parametrize(
    ("air", "hot", "factor"),
    [
        # 105 °C insulation in an engine space: 0.85 at 50 °C as published (33 CFR 183.425 note 1), the square of the
        # current goes with what is left to 105 °C: 0.85·√(25/55) at 80 °C, nothing at 105 °C and above
        (50.0, True, 0.85),
        (80.0, True, 0.85 * (25 / 55) ** 0.5),
        (105.0, True, 0.0),
        (120.0, True, 0.0),
        (10.0, True, 1.0),  # colder air gives no more than the table
        # elsewhere the table holds for 30 °C: √(45/75) at 60 °C
        (30.0, False, 1.0),
        (60.0, False, 0.6**0.5),
    ],
)
def test_the_air_around_a_cable(air: float, hot: bool, factor: float) -> None:
    lies = c.Installation(C105, hot, air=air + 273.15)
    # 4 mm²: 45 A (ISO 10133, from memory); 10 AWG: 60 A (33 CFR 183.425 table 5)
    assert c.ampacity(4e-6, lies) == pytest.approx(45 * factor)
    assert c.ampacity(c.awg_area(10), lies) == pytest.approx(60 * factor)


def test_a_size_between_two_of_the_table_lies_on_the_line_between_their_logarithms() -> None:
    # IEC 60228, class 5, plain copper at 20 °C: 0.780 Ω/km at 25 mm², 0.554 Ω/km at 35 mm²; by hand at 30 mm²:
    # 0.780·(30/25)^(ln(0.554/0.780)/ln(35/25)) = 0.780·1.2^-1.01682 = 0.6480
    assert c.resistance_per_metre(30e-6) * 1000.0 == pytest.approx(0.6480, rel=2e-4)


@pytest.mark.parametrize(("thin", "thick", "more", "less"), [(0.5, 0.75, 39.0, 26.0), (185, 240, 0.106, 0.0801)])
def test_the_first_and_the_last_pair_of_the_table(thin: float, thick: float, more: float, less: float) -> None:
    # IEC 60228, class 5: a straight line in logarithms meets the geometric means of both
    area = math.sqrt(thin * thick) * 1e-6
    assert c.resistance_per_metre(area) * 1e3 == pytest.approx(math.sqrt(more * less))


def test_the_thinnest_gauge_of_the_table_is_in_it() -> None:
    # 33 CFR 183.425 table 5: 18 AWG carries 20 A with insulation for 105 °C; one per cent thinner is not in the table
    thinnest = c.awg_area(18)
    assert c.ampacity_between_gauges(thinnest, c.Installation(C105)) == 20.0
    with pytest.raises(OutsideRange):
        c.ampacity_between_gauges(0.99 * thinnest, c.Installation(C105))


def test_a_gauge_within_half_a_per_cent_is_that_gauge() -> None:
    # 33 CFR 183.425 table 5: 8 AWG carries 80 A with insulation for 105 °C
    eight = c.awg_area(8)
    for share in (0.996, 1.0, 1.004):
        assert c.ampacity_between_gauges(share * eight, c.Installation(C105)) == 80.0


@pytest.mark.parametrize("rounding", [-1e-8, 0.0, 1e-8])
def test_rounding_makes_no_other_insulation(rounding: float) -> None:
    # 18 AWG in table 5 of 33 CFR 183.425: 20 A for 105 °C, 25 A for 125 °C; 10 AWG 55 A for 90 °C, 60 A for 105 °C
    lies = c.Installation(C105 + rounding)
    assert c.ampacity_between_gauges(c.awg_area(18), lies) == c.ampacity(c.awg_area(18), lies) == 20.0
    assert c.ampacity_between_gauges(c.awg_area(18), c.Installation(C105 + 0.01)) == 25.0
    assert c.ampacity(c.awg_area(10), c.Installation(C105 - 0.01)) == 55.0


def test_a_gauge_of_the_table_is_rated_as_itself_and_not_as_the_next() -> None:
    # 33 CFR 183.425 table 5, 105 °C: 8 AWG 80 A, 6 AWG 120 A; a little less than 8 AWG is 8 AWG, more is the next
    eight = c.awg_area(8)
    assert [c.ampacity_at_most(share * eight, c.Installation(C105)) for share in (0.9, 1.0, 1.004)] == [80.0] * 3
    assert c.ampacity_at_most(1.1 * eight, c.Installation(C105)) == 120.0
