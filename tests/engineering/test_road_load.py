import math
from itertools import pairwise

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from scipy.optimize import brentq, minimize_scalar

from swaplint.engineering import curves
from swaplint.engineering.guards import ImpossibleInput, OutsideRange
from swaplint.engineering.road_load import (
    Drive,
    Resistance,
    Traction,
    aerodynamic_drag,
    best_climb,
    climbable_grade,
    governed_curve,
    grade_force,
    grade_held,
    power_reserve,
    ratio_for_grade,
    rolling_resistance,
    startable_grade,
    steady_speed,
    traction_grade,
    wheel_force,
)

RPM = math.tau / 60.0
MASS = st.floats(500.0, 40_000.0)
GRADE = st.floats(0.0, 1.5)
COEFFICIENT = st.floats(0.0, 0.25)

# Invented full-load torque of a slow diesel, rpm and N·m, and an invented 7.4 t vehicle.
TORQUE = tuple(
    (rpm * RPM, torque) for rpm, torque in ((700, 330), (1000, 480), (1400, 600), (1900, 600), (2200, 560), (2600, 485))
)
VEHICLE = Resistance(mass=7400.0, rolling_coefficient=0.012, drag_area=4.05, air_density=1.225)
TOP = Drive(TORQUE, overall_ratio=4.88, efficiency=0.93, rolling_radius=0.5)


@st.composite
def drives(draw: st.DrawFn) -> Drive:
    torques = draw(st.lists(st.floats(0.0, 1000.0), min_size=2, max_size=7))
    steps = draw(st.lists(st.floats(10.0, 100.0), min_size=len(torques), max_size=len(torques)))
    points = tuple((50.0 + sum(steps[:k]), torque) for k, torque in enumerate(torques))
    return Drive(points, draw(st.floats(2.0, 60.0)), draw(st.floats(0.7, 1.0)), draw(st.floats(0.25, 0.6)))


resistances = st.builds(
    Resistance,
    mass=st.floats(800.0, 20_000.0),
    rolling_coefficient=st.floats(0.005, 0.1),
    drag_area=st.floats(0.0, 8.0),
    air_density=st.floats(0.8, 1.3),
)


# Published values.


def test_highway_engineering_textbook_resistances():
    # Mannering, Washburn, Kilareski, Principles of Highway Engineering and Traffic Analysis, 4th ed., problem
    # 2.31 (solutions manual): 2000 lb, Cd 0.35, 20 ft², 0.002045 slug/ft³, 70 mph, 5 % grade; rolling
    # coefficient 0.01·(1 + V/147) with V in ft/s. Drag 75.44 lb, rolling 33.97 lb, grade 100 lb, together
    # 209.41 lb. The book takes sin θ = G and cos θ = 1, which at 5 % is 0.13 %.
    lbf, foot = 4.4482216, 0.3048
    speed_ft = 70 * 5280 / 3600
    vehicle = Resistance(
        mass=2000 * 0.45359237,
        rolling_coefficient=0.01 * (1 + speed_ft / 147),
        drag_area=0.35 * 20 * foot**2,
        air_density=0.002045 * 14.593903 / foot**3,
    )
    speed = speed_ft * foot
    assert vehicle.drag(speed) / lbf == pytest.approx(75.44, rel=1e-4)
    rolling = rolling_resistance(vehicle.mass, vehicle.rolling_coefficient)
    assert rolling / lbf == pytest.approx(33.97, rel=2e-4)
    assert grade_force(vehicle.mass, 0.05) / lbf == pytest.approx(100.0, rel=1.3e-3)
    assert vehicle.force(speed, 0.05) / lbf == pytest.approx(209.41, rel=1e-3)


def test_thermal_systems_textbook_drag():
    # Moran, Shapiro, Munson, DeWitt, Introduction to Thermal Systems Engineering, ex. 14.8: 72.5 lbf.
    foot = 0.3048
    drag = aerodynamic_drag(0.00238 * 14.593903 / foot**3, 0.3 * 5.2 * 4.3 * foot**2, 95.3 * foot)
    assert drag / 4.4482216 == pytest.approx(72.5, rel=2e-3)


def test_thermal_systems_textbook_drag_of_an_older_car():
    # The same example for a car of 1940, drag coefficient 0.55 on 5.2 by 5.1 ft: 158 lbf, 27.3 hp at 65 mph.
    foot = 0.3048
    drag = aerodynamic_drag(0.00238 * 14.593903 / foot**3, 0.55 * 5.2 * 5.1 * foot**2, 95.3 * foot)
    assert drag / 4.4482216 == pytest.approx(158.0, rel=3e-3)
    assert drag * 95.3 * foot / 745.69987 == pytest.approx(27.3, rel=3e-3)


def test_mechanics_textbook_climb():
    # Bansal, Engineering Mechanics, ex. 15.13: a truck of 6 kN climbs 1 in 40 at 20 m/s against as much resistance as
    # the slope's pull: 2·6000/40 N · 20 m/s = 6.0 kW. (1 in 40 as a tangent differs from the sine by 0.03 %.)
    truck = Resistance(mass=6000.0 / 9.80665, rolling_coefficient=1 / 40, drag_area=0.0, air_density=1.2)
    assert truck.power(20.0, grade=1 / 40) / 1e3 == pytest.approx(6.0, rel=1e-3)


def test_published_gradeability_example():
    # Public worked example of a drive component supplier: 117 N·m, 12:1, 400 mm, 4500 kg, good concrete
    # (1.5 %, from memory) gives 6.5 %, by the approximation grade = F/(m·g) - C and without losses.
    force = wheel_force(117.0, 12.0, 1.0, 0.400)
    assert climbable_grade(force, 4500.0, 0.015) == pytest.approx(0.065, abs=5e-4)


def test_drag_at_100_km_h():
    # Worked by hand, ISO 2533 sea-level density: 0.5·1.225·0.45·2.8·(100/3.6)² = 595.486 N.
    assert aerodynamic_drag(1.225, 0.45 * 2.8, 100 / 3.6) == pytest.approx(595.486, abs=1e-3)


def test_grade_force_is_exact():
    # Worked by hand: 1000·9.80665·sin(6.843°) = 1168.42 N on 12 %, 0.7 % less than with 0.12 for the sine.
    assert grade_force(1000.0, 0.12) == pytest.approx(1168.42, abs=0.01)
    assert grade_force(1000.0, 0.12) < 1000.0 * 9.80665 * 0.12


# Grades.


@given(MASS, GRADE, COEFFICIENT)
def test_the_force_that_holds_a_grade_climbs_that_grade(mass, grade, coefficient):
    force = grade_force(mass, grade) + rolling_resistance(mass, coefficient, grade)
    assume(grade < 0.99 / coefficient if coefficient else True)  # the force rises with the grade up to 1/C only
    assert climbable_grade(force, mass, coefficient) == pytest.approx(grade, rel=1e-6, abs=1e-9)


@given(MASS, st.floats(-0.1, 0.9), COEFFICIENT)
def test_climbable_grade_agrees_with_a_root_finder(mass, share, coefficient):
    weight = mass * 9.80665

    def balance(angle: float) -> float:
        return math.sin(angle) + coefficient * math.cos(angle) - share

    angle = brentq(balance, -1.0, math.atan2(1.0, coefficient), xtol=1e-14)
    assert climbable_grade(share * weight, mass, coefficient) == pytest.approx(math.tan(angle), rel=1e-6, abs=1e-9)


@given(MASS, COEFFICIENT)
def test_limits_of_the_climbable_grade(mass, coefficient):
    weight = mass * 9.80665
    assert climbable_grade(coefficient * weight * math.cos(math.atan(0.0)), mass, coefficient) == pytest.approx(
        0.0, abs=1e-9
    )
    assert climbable_grade(0.0, mass, coefficient) == pytest.approx(-coefficient)  # it coasts downhill
    assert climbable_grade(weight * 1.05, mass, coefficient) == math.inf
    assert climbable_grade(-weight * 1.05, mass, coefficient) == -math.inf


@given(MASS, st.floats(0.1, 1.0), st.floats(0.1, 1.2), st.floats(0.0, 0.08))
def test_traction_grade_balances_grip_against_resistance(mass, share, adhesion, coefficient):
    grade = traction_grade(mass, share * mass, adhesion, coefficient)
    grip = adhesion * share * mass * 9.80665 * math.cos(math.atan(grade))
    assert grip == pytest.approx(grade_force(mass, grade) + rolling_resistance(mass, coefficient, grade))
    assert grade == pytest.approx(adhesion * share - coefficient)


@given(st.floats(0.0, 5000.0))
def test_drag_takes_from_the_grip(drag):
    grade = traction_grade(2000.0, 1200.0, 0.8, 0.02, drag)
    grip = 0.8 * 1200.0 * 9.80665 * math.cos(math.atan(grade))
    assert grip - drag == pytest.approx(grade_force(2000.0, grade) + rolling_resistance(2000.0, 0.02, grade), abs=1e-6)


@given(st.floats(0.0, 3000.0), st.floats(-0.4, 0.4))
def test_load_that_moves_and_drag_are_in_balance_too(drag, shift):
    grade = traction_grade(2000.0, 1200.0, 0.8, 0.02, drag, shift)
    slope = math.atan(grade)
    grip = 0.8 * 9.80665 * (1200.0 * math.cos(slope) + 2000.0 * shift * math.sin(slope))
    assert grip - drag == pytest.approx(grade_force(2000.0, grade) + rolling_resistance(2000.0, 0.02, grade), abs=1e-6)


@given(
    st.floats(0.01, 0.6),
    st.floats(100.0, 1000.0),
    st.floats(0.7, 1.0),
    st.floats(0.25, 0.6),
    MASS,
    COEFFICIENT,
)
def test_the_ratio_for_a_grade_starts_on_that_grade(grade, torque, efficiency, radius, mass, coefficient):
    ratio = ratio_for_grade(grade, torque, efficiency, radius, mass, coefficient)
    assert startable_grade(torque, 1.0, ratio, efficiency, radius, mass, coefficient) == pytest.approx(grade, rel=1e-6)
    assert startable_grade(torque, 0.85, ratio, efficiency, radius, mass, coefficient) < grade


def test_a_ratio_downhill_is_refused():
    with pytest.raises(OutsideRange):
        ratio_for_grade(-0.1, 400.0, 0.9, 0.5, 7000.0, 0.015)


# Speeds.


@given(drives(), resistances, st.one_of(st.none(), st.just(Traction(500.0, 0.7))))
def test_no_speed_on_the_curve_climbs_more_than_the_best(drive, resistance, traction):
    best = best_climb(drive, resistance)
    low, high = drive.torque_curve[0][0], drive.torque_curve[-1][0]
    for k in range(41):
        speed = min(low + (high - low) * k / 40, high)
        other = grade_held(drive, resistance, drive.road_speed(speed))
        assert other.grade <= best.grade + 1e-9 * (1.0 + abs(best.grade))
    limited = best_climb(drive, resistance, traction)
    assert limited.grade <= best.grade
    assert (limited.limited_by == "engine") == (limited.grade == best.grade)


@given(drives(), resistances)
def test_the_best_climb_agrees_with_a_bounded_search(drive, resistance):
    def net(speed: float) -> float:
        return drive.force(speed) - resistance.drag(drive.road_speed(speed))

    found = -math.inf
    xs = [speed for speed, _ in drive.torque_curve]
    for low, high in pairwise(xs):
        inside = minimize_scalar(lambda x: -net(min(max(x, xs[0]), xs[-1])), bounds=(low, high), method="bounded")
        found = max(found, -inside.fun, net(low), net(high))
    expected = climbable_grade(found, resistance.mass, resistance.rolling_coefficient)
    assert best_climb(drive, resistance).grade == pytest.approx(expected, rel=1e-6, abs=1e-9)


def test_best_climb_lies_below_the_torque_plateau_end_because_drag_rises():
    # On a flat torque plateau the lowest speed has the least drag: by hand, the plateau starts at 1400 rpm.
    assert best_climb(TOP, VEHICLE).engine_speed == pytest.approx(1400 * RPM)


def test_best_climb_at_a_crest_inside_a_segment():
    # By hand: force per torque 10, T = 100 + ω between 100 and 300 rad/s, v = ω·0.1; drag 3·v² = 0.03·ω².
    # Net 1000 + 10·ω - 0.03·ω², crest at ω = 10/0.06 = 166.67 with 1833.3 N.
    drive = Drive(((100.0, 200.0), (300.0, 400.0)), overall_ratio=10.0, efficiency=1.0, rolling_radius=1.0)
    vehicle = Resistance(mass=1000.0, rolling_coefficient=0.01, drag_area=6.0, air_density=1.0)
    climb = best_climb(drive, vehicle)
    assert climb.engine_speed == pytest.approx(166.667, abs=1e-3)
    assert climb.grade == pytest.approx(climbable_grade(1833.333, 1000.0, 0.01), rel=1e-6)


def test_a_low_gear_on_poor_ground_is_limited_by_traction():
    low = Drive(TORQUE, overall_ratio=61.2, efficiency=0.9, rolling_radius=0.5)
    climb = best_climb(low, VEHICLE, Traction(driven_mass=7400.0, adhesion=0.5))
    assert climb.limited_by == "traction"
    assert climb.grade == pytest.approx(0.5 - 0.012, abs=1e-3)


@given(drives(), resistances, st.floats(-0.02, 0.2))
def test_steady_speed_agrees_with_a_scan_and_a_root_finder(drive, resistance, grade):
    def surplus(speed: float) -> float:
        return drive.force(speed) - resistance.force(drive.road_speed(speed), grade)

    found = steady_speed(drive, resistance, grade)
    low, high = drive.torque_curve[0][0], drive.torque_curve[-1][0]
    scan = [min(low + (high - low) * k / 400, high) for k in range(401)]
    holding = [speed for speed in scan if surplus(speed) >= 0.0]
    if found is None:
        assert not holding
        return
    assert all(speed <= found.engine_speed * (1.0 + 1e-12) for speed in holding)
    assert found.road_speed == pytest.approx(drive.road_speed(found.engine_speed))
    if found.limited_by == "engine speed":
        assert found.engine_speed == high
        return
    above = next((speed for speed in scan if speed > found.engine_speed), high)
    if holding and surplus(holding[-1]) > 0.0 and above > holding[-1]:
        root = brentq(surplus, holding[-1], above, xtol=1e-12)
        assert found.engine_speed == pytest.approx(root, rel=1e-9)
    assert abs(surplus(found.engine_speed)) < 1e-6 * (1.0 + resistance.force(found.road_speed, abs(grade)))


def test_a_governed_engine_does_not_reach_its_no_load_speed_on_the_road():
    # The balance must lie between rated speed, where force is left over, and no-load speed, where none is.
    governed = Drive(governed_curve(TORQUE, 2850 * RPM), 4.88, 0.93, 0.5)
    found = steady_speed(governed, VEHICLE)
    assert found is not None
    assert found.limited_by == "resistance"
    assert 2600 * RPM < found.engine_speed < 2850 * RPM
    ungoverned = steady_speed(TOP, VEHICLE)
    assert ungoverned is not None
    assert (ungoverned.limited_by, ungoverned.engine_speed) == ("engine speed", 2600 * RPM)


def test_a_steep_grade_holds_no_speed_in_top():
    assert steady_speed(TOP, VEHICLE, grade=0.2) is None


def test_at_the_steady_speed_of_a_grade_the_grade_held_is_that_grade():
    found = steady_speed(TOP, VEHICLE, grade=0.045)
    assert found is not None
    assert found.limited_by == "resistance"
    assert grade_held(TOP, VEHICLE, found.road_speed).grade == pytest.approx(0.045, abs=1e-9)


@given(st.floats(750 * RPM, 2590 * RPM))
def test_reserve_is_positive_exactly_where_a_grade_is_held(speed):
    road = TOP.road_speed(speed)
    reserve = power_reserve(TOP, VEHICLE, road)
    power = curves.interpolate(TORQUE, TOP.engine_speed(road)) * TOP.engine_speed(road) * TOP.efficiency
    assert reserve == pytest.approx(power / VEHICLE.power(road) - 1.0)
    assert (reserve > 0.0) == (grade_held(TOP, VEHICLE, road).grade > 0.0)


def test_outside_the_curve_nothing_is_held():
    with pytest.raises(OutsideRange):
        grade_held(TOP, VEHICLE, TOP.road_speed(2700 * RPM))
    with pytest.raises(OutsideRange):
        power_reserve(TOP, VEHICLE, TOP.road_speed(600 * RPM))


def test_without_any_resistance_there_is_no_reserve_to_state():
    with pytest.raises(OutsideRange):
        power_reserve(TOP, Resistance(1000.0, 0.0, 0.0, 1.2), TOP.road_speed(150.0))
    # half a newton is enough of it: 5 kg, 0.01 of the weight
    road = TOP.road_speed(150.0)
    assert power_reserve(TOP, Resistance(5.0, 0.01, 0.0, 1.2), road) == pytest.approx(
        TOP.force(150.0) / (5.0 * 9.80665 * 0.01) - 1.0
    )


def test_a_governor_line_must_lie_beyond_the_curve():
    with pytest.raises(OutsideRange):
        governed_curve(TORQUE, 2600 * RPM)


# Impossible input.


@pytest.mark.parametrize("bad", [0.0, -1.0, math.nan, math.inf])
def test_what_must_be_positive(bad):
    for call in (
        lambda: grade_force(bad, 0.1),
        lambda: rolling_resistance(bad, 0.01),
        lambda: aerodynamic_drag(bad, 1.0, 10.0),
        lambda: wheel_force(100.0, bad, 0.9, 0.4),
        lambda: wheel_force(100.0, 10.0, bad, 0.4),
        lambda: wheel_force(100.0, 10.0, 0.9, bad),
        lambda: climbable_grade(100.0, bad, 0.01),
        lambda: traction_grade(1000.0, bad, 0.8, 0.01),
        lambda: ratio_for_grade(0.1, bad, 0.9, 0.4, 1000.0, 0.01),
        lambda: Resistance(bad, 0.01, 1.0, 1.2),
        lambda: Drive(TORQUE, bad, 0.9, 0.4),
    ):
        with pytest.raises(ImpossibleInput):
            call()


@pytest.mark.parametrize("bad", [-1.0, math.nan])
def test_what_must_not_be_negative(bad):
    for call in (
        lambda: rolling_resistance(1000.0, bad),
        lambda: aerodynamic_drag(1.2, bad, 10.0),
        lambda: aerodynamic_drag(1.2, 1.0, bad),
        lambda: wheel_force(bad, 10.0, 0.9, 0.4),
        lambda: traction_grade(1000.0, 500.0, bad, 0.01),
        lambda: Resistance(1000.0, bad, 1.0, 1.2),
        lambda: Drive(((100.0, bad), (200.0, 10.0)), 4.0, 0.9, 0.4),
    ):
        with pytest.raises(ImpossibleInput):
            call()


def test_shares_above_one_are_refused():
    with pytest.raises(ImpossibleInput):
        wheel_force(100.0, 10.0, 1.1, 0.4)
    with pytest.raises(ImpossibleInput):
        startable_grade(100.0, 1.1, 10.0, 0.9, 0.4, 1000.0, 0.01)
    with pytest.raises(ImpossibleInput):
        traction_grade(1000.0, 1100.0, 0.8, 0.01)


def test_a_speed_that_is_held_by_half_a_newton_is_held():
    # wheel force 500 N m·5·0.9/0.5 m = 4500 N at 100 rad/s, 3600 N at 200: 9 N less for each rad/s; rolling takes
    # 4499.5 N
    drive = Drive(((100.0, 500.0), (200.0, 400.0)), overall_ratio=5.0, efficiency=0.9, rolling_radius=0.5)
    found = steady_speed(drive, Resistance(4499.5 / (9.80665 * 0.012), 0.012, 0.0, 1.2))
    assert found is not None
    assert found.engine_speed == pytest.approx(100.0 + 0.5 / 9.0, rel=1e-6)


def test_best_climb_at_a_crest_of_a_steep_and_of_a_falling_segment():
    # By hand: force per torque 5·0.9/0.5 = 9, v = ω·0.1; drag 0.5·12·v² = 0.06·ω². T = 2·ω - 100: net 18·ω - 900 -
    # 0.06·ω², crest at ω = 18/0.12 = 150 with 450 N, 300 N at both ends.
    vehicle = Resistance(mass=1000.0, rolling_coefficient=0.01, drag_area=10.0, air_density=1.2)
    drive = Drive(((100.0, 100.0), (200.0, 300.0)), overall_ratio=5.0, efficiency=0.9, rolling_radius=0.5)
    assert best_climb(drive, vehicle).engine_speed == pytest.approx(150.0)
    # only its beginning and end are looked at where the torque falls: 900 - 9·(ω - 100) falls throughout
    falling = Drive(((100.0, 100.0), (200.0, 0.0)), overall_ratio=5.0, efficiency=0.9, rolling_radius=0.5)
    assert best_climb(falling, vehicle).engine_speed == 100.0


def test_a_pull_downhill_that_no_slope_makes():
    # sin θ + 0.5·cos θ is least at θ = -90° - 26.57°, beyond upright: -0.95·√1.25 of the weight is met beyond it
    weight = 1000.0 * 9.80665
    assert climbable_grade(-0.95 * math.sqrt(1.25) * weight, 1000.0, 0.5) == -math.inf
    assert climbable_grade(-1.5 * weight, 1000.0, 0.5) == -math.inf
    assert climbable_grade(1.5 * weight, 1000.0, 0.5) == math.inf
    # just this side of upright: arcsin(-0.88) - arctan(0.5) = -61.64° - 26.57° = -88.21°
    assert climbable_grade(-0.88 * math.sqrt(1.25) * weight, 1000.0, 0.5) == pytest.approx(-31.9, rel=0.01)


def test_grip_that_gains_all_that_the_slope_pulls():
    # μ·shift = 0.5·2 = 1: the steeper it is the more they hold
    with pytest.raises(OutsideRange, match="holds any slope"):
        traction_grade(1000.0, 500.0, 0.5, 0.01, shift=2.0)
    assert traction_grade(1000.0, 500.0, 0.5, 0.01, shift=1.0) == pytest.approx((0.25 - 0.01) / 0.5)
    assert traction_grade(1000.0, 1000.0, 0.5, 0.01) == pytest.approx(0.49)


def test_where_nothing_resists_an_engine_runs_to_its_no_load_speed():
    drive = Drive(((100.0, 100.0), (200.0, 0.0)), overall_ratio=5.0, efficiency=0.9, rolling_radius=0.5)
    found = steady_speed(drive, Resistance(1000.0, 0.0, 0.0, 1.2))
    assert found == (20.0, 200.0, "engine speed")


def test_a_speed_where_the_torque_line_meets_the_resistance():
    # T = 200 - ω, force 9 each: 1800 - 9·ω against 0.06·ω² + 98.0665 N: ω = (-9 + √(81 + 0.24·1701.9335))/0.12
    drive = Drive(((100.0, 100.0), (200.0, 0.0)), overall_ratio=5.0, efficiency=0.9, rolling_radius=0.5)
    found = steady_speed(drive, Resistance(1000.0, 0.01, 10.0, 1.2))
    assert found is not None
    assert found.engine_speed == pytest.approx((-9.0 + math.sqrt(81.0 + 0.24 * 1701.9335)) / 0.12, rel=1e-9)
    assert found.road_speed == pytest.approx(0.1 * found.engine_speed, rel=1e-12)
    assert found.limited_by == "resistance"


def test_a_speed_that_is_held_at_the_very_first_point_of_the_curve():
    # 500 N·m·5/0.5 m = 5000 N; 1 m/s at 10 rad/s, where half of 1 kg/m³·10 000 m² drag as much, and more than it beyond
    drive = Drive(((10.0, 500.0), (20.0, 500.0)), overall_ratio=5.0, efficiency=1.0, rolling_radius=0.5)
    assert steady_speed(drive, Resistance(1000.0, 0.0, 10000.0, 1.0)) == (1.0, 10.0, "resistance")
    assert steady_speed(drive, Resistance(1000.0, 0.0, 10001.0, 1.0)) is None
