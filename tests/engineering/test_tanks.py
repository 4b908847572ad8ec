"""Tank geometry against independent integration and closed forms, and heat against the first law."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from swaplint.engineering.guards import ImpossibleInput, OutsideRange
from swaplint.engineering.tanks import (
    BoxTank,
    PickUp,
    cooler_duty,
    covering_volume,
    heating_power,
    steady_temperature_rise,
    surface_height,
    surface_slopes,
    unusable_volume,
    volume_below_surface,
    worst_covering_volume,
)

TANK = BoxTank(0.950, 0.420, 0.360)
tanks = st.builds(BoxTank, st.floats(0.2, 2.0), st.floats(0.2, 1.0), st.floats(0.1, 0.8))
slopes = st.floats(-3.0, 3.0)
heights = st.floats(-2.0, 3.0)
SX, SY = surface_slopes(-0.15, -0.41)
tilts = st.floats(-1.2, 1.2)


def grid_volume(tank: BoxTank, height: float, slope_x: float, slope_y: float, cells: int = 400) -> float:
    """Midpoint rule over the floor plan: independent of the polygon clipping."""
    x = (np.arange(cells) + 0.5) / cells * tank.length - tank.length / 2
    y = (np.arange(cells) + 0.5) / cells * tank.width - tank.width / 2
    surface = height + slope_x * x[:, None] + slope_y * y[None, :]
    return float(np.clip(surface, 0.0, tank.height).mean() * tank.length * tank.width)


def corner_sum(tank: BoxTank, height: float, slope_x: float, slope_y: float) -> float:
    """Closed form for slopes other than zero: signed sum over the corners of z³/(6·sx·sy), z cut at zero."""

    def above(z_middle: float) -> float:
        total = 0.0
        for side_x in (-1, 1):
            for side_y in (-1, 1):
                z = z_middle + slope_x * side_x * tank.length / 2 + slope_y * side_y * tank.width / 2
                total += side_x * side_y * max(z, 0.0) ** 3
        return total / (6 * slope_x * slope_y)

    return above(height) - above(height - tank.height)


def one_tilt(tank: BoxTank, height: float, from_low_end: float, tangent: float) -> float:
    """Trapezium geometry of one tilt: fuel height at the low and the high end, floor and ceiling cut off."""
    low = height + from_low_end * tangent
    high = height - (tank.length - from_low_end) * tangent

    def triangle(z: float) -> float:
        return tank.width * max(z, 0.0) ** 2 / (2 * tangent)

    return triangle(low) - triangle(high) - triangle(low - tank.height) + triangle(high - tank.height)


# Volume under a plane


@given(tanks, heights, slopes, slopes)
def test_volume_against_numerical_integration(tank: BoxTank, height: float, sx: float, sy: float) -> None:
    expected = grid_volume(tank, height, sx, sy)
    assert volume_below_surface(tank, height, sx, sy) == pytest.approx(expected, abs=2e-4 * tank.volume)


steep = st.one_of(st.floats(0.02, 3.0), st.floats(-3.0, -0.02))


@given(tanks, heights, steep, steep)
def test_volume_against_the_corner_sum(tank: BoxTank, height: float, sx: float, sy: float) -> None:
    expected = corner_sum(tank, height, sx, sy)
    assert volume_below_surface(tank, height, sx, sy) == pytest.approx(expected, abs=1e-9)


@given(tanks, heights, slopes, slopes)
def test_upside_down_the_empty_space_is_the_fuel(tank: BoxTank, h: float, sx: float, sy: float) -> None:
    space = volume_below_surface(tank, tank.height - h, -sx, -sy)
    assert volume_below_surface(tank, h, sx, sy) + space == pytest.approx(tank.volume, rel=1e-9)


@given(tanks, heights, slopes, slopes)
def test_mirrored_surface_holds_the_same(tank: BoxTank, height: float, sx: float, sy: float) -> None:
    volume = volume_below_surface(tank, height, sx, sy)
    assert volume_below_surface(tank, height, -sx, sy) == pytest.approx(volume, abs=1e-12)
    assert volume_below_surface(tank, height, sx, -sy) == pytest.approx(volume, abs=1e-12)
    turned = BoxTank(tank.width, tank.length, tank.height)
    assert volume_below_surface(turned, height, sy, sx) == pytest.approx(volume, abs=1e-12)


@given(tanks, heights, slopes, slopes, st.floats(0.0, 1.0))
def test_a_higher_surface_holds_no_less(tank: BoxTank, h: float, sx: float, sy: float, rise: float) -> None:
    assert volume_below_surface(tank, h + rise, sx, sy) >= volume_below_surface(tank, h, sx, sy) - 1e-12


@given(tanks, heights, slopes, slopes, st.floats(0.1, 10.0))
def test_volume_goes_with_the_cube_of_the_unit(
    tank: BoxTank, height: float, sx: float, sy: float, scale: float
) -> None:
    grown = BoxTank(tank.length * scale, tank.width * scale, tank.height * scale)
    expected = scale**3 * volume_below_surface(tank, height, sx, sy)
    assert volume_below_surface(grown, height * scale, sx, sy) == pytest.approx(expected, abs=1e-9 * scale**3)


def test_limits_of_the_surface_height() -> None:
    assert volume_below_surface(TANK, -10.0, 1.0, 1.0) == 0.0
    assert volume_below_surface(TANK, 10.0, 1.0, 1.0) == pytest.approx(TANK.volume)
    assert volume_below_surface(TANK, 0.1, 0.0, 0.0) == pytest.approx(0.95 * 0.42 * 0.1)


# Covering the pick-up


@given(tanks, st.floats(0.0, 1.0), st.floats(-0.5, 0.5), st.floats(0.01, 1.2))
def test_one_tilt_against_trapezium_geometry(tank: BoxTank, level: float, place: float, tilt: float) -> None:
    """Floor dry at the high end or not, ceiling wet at the low end or not, pick-up off either way."""
    pickup = PickUp(height=level * tank.height, x=place * tank.length)
    expected = one_tilt(tank, pickup.height, tank.length / 2 - pickup.x, math.tan(tilt))
    assert covering_volume(tank, pickup, tilt, 0.0) == pytest.approx(expected, abs=1e-9)
    turned = BoxTank(tank.width, tank.length, tank.height)
    sideways = PickUp(height=pickup.height, y=pickup.x)
    assert covering_volume(turned, sideways, 0.0, tilt) == pytest.approx(expected, abs=1e-9)


@given(tanks, st.floats(0.0, 1.0), st.floats(-0.5, 0.5), st.floats(-0.5, 0.5), tilts, tilts)
def test_two_tilts_against_numerical_integration(
    tank: BoxTank, level: float, place_x: float, place_y: float, tilt_long: float, tilt_side: float
) -> None:
    assume(math.sin(tilt_long) ** 2 + math.sin(tilt_side) ** 2 < 0.95)
    pickup = PickUp(height=level * tank.height, x=place_x * tank.length, y=place_y * tank.width)
    up = math.sqrt(1 - math.sin(tilt_long) ** 2 - math.sin(tilt_side) ** 2)
    sx, sy = math.sin(tilt_long) / up, math.sin(tilt_side) / up
    expected = grid_volume(tank, pickup.height - sx * pickup.x - sy * pickup.y, sx, sy)
    found = covering_volume(tank, pickup, tilt_long, tilt_side)
    assert found == pytest.approx(expected, abs=3e-4 * tank.volume)


@given(tilts, tilts)
def test_slopes_make_the_axes_read_their_tilts(tilt_long: float, tilt_side: float) -> None:
    """Up is (-sx, -sy, 1) normalised in the tank's frame; its components are the axes' sines."""
    assume(math.sin(tilt_long) ** 2 + math.sin(tilt_side) ** 2 < 0.95)
    sx, sy = surface_slopes(tilt_long, tilt_side)
    norm = math.sqrt(1 + sx**2 + sy**2)
    assert sx / norm == pytest.approx(math.sin(tilt_long), abs=1e-12)
    assert sy / norm == pytest.approx(math.sin(tilt_side), abs=1e-12)


@pytest.mark.parametrize("tilt", [-1.6, 1.6, -3.0, 3.0])
def test_no_axis_stands_steeper_than_upright(tilt: float) -> None:
    for tilts in ((tilt, 0.0), (0.0, tilt)):
        with pytest.raises(OutsideRange, match="a tilt is an angle to the horizontal"):
            surface_slopes(*tilts)


def test_a_pick_up_at_the_ceiling_reaches_nothing() -> None:
    assert unusable_volume(TANK, 0.36) == pytest.approx(TANK.volume)
    with pytest.raises(ImpossibleInput, match="above the tank"):
        unusable_volume(TANK, 0.3601)


def test_level_tank_needs_the_unusable_volume() -> None:
    assert covering_volume(TANK, PickUp(0.025, 0.3, 0.1), 0.0, 0.0) == pytest.approx(unusable_volume(TANK, 0.025))
    assert unusable_volume(TANK, 0.025) == pytest.approx(0.95 * 0.42 * 0.025)
    assert covering_volume(TANK, PickUp(0.36), 0.0, 0.0) == pytest.approx(TANK.volume)


def test_pickup_at_the_low_end_needs_less_than_at_the_high_end() -> None:
    ahead, behind = PickUp(0.025, x=0.3), PickUp(0.025, x=-0.3)
    nose_down = math.radians(20.0)
    assert covering_volume(TANK, ahead, nose_down, 0.0) < covering_volume(TANK, behind, nose_down, 0.0)
    assert covering_volume(TANK, ahead, -nose_down, 0.0) == pytest.approx(covering_volume(TANK, behind, nose_down, 0.0))


@given(
    tanks,
    st.floats(0.0, 0.5),
    st.floats(-0.5, 0.5),
    st.floats(-0.5, 0.5),
    st.floats(0.0, 0.6),
    st.floats(0.0, 0.6),
    st.floats(-1.0, 1.0),
    st.floats(-1.0, 1.0),
)
def test_no_smaller_tilt_needs_more_than_the_worst(
    tank: BoxTank,
    level: float,
    place_x: float,
    place_y: float,
    tilt_long: float,
    tilt_side: float,
    part_long: float,
    part_side: float,
) -> None:
    pickup = PickUp(height=level * tank.height, x=place_x * tank.length, y=place_y * tank.width)
    worst = worst_covering_volume(tank, pickup, tilt_long, tilt_side)
    milder = covering_volume(tank, pickup, part_long * tilt_long, part_side * tilt_side)
    assert milder <= worst + 1e-4 * tank.volume


def test_a_milder_tilt_can_be_worse_once_the_ceiling_is_wet() -> None:
    """A flat tank leaning hard, pick-up in the high corner: the steepest pitch is not the worst one."""
    tank = BoxTank(2.0, 0.5, 0.15)
    pickup = PickUp(0.045, x=0.46, y=0.22)
    corners = [covering_volume(tank, pickup, long, side) for long in (-0.58, 0.58) for side in (-0.41, 0.41)]
    milder = grid_volume(tank, 0.045 - 0.46 * SX - 0.22 * SY, SX, SY)
    assert milder > max(corners) + 0.02 * tank.volume
    assert worst_covering_volume(tank, pickup, 0.58, 0.41) >= milder - 0.002 * tank.volume  # what the grid is good for


def test_near_a_side_wall_a_milder_pitch_can_be_worse_too() -> None:
    """The surface meets the ceiling before the steepest pitch: looked through in steps of a tenth and a twentieth."""
    tank, pickup = BoxTank(1.3213, 0.67868, 0.399), PickUp(0.14908, x=-0.03055, y=0.2902)
    shares = [(long / 10, side / 20) for long in range(-10, 11) for side in range(-20, 21)]
    needed = {share: covering_volume(tank, pickup, 0.19064 * share[0], 0.49165 * share[1]) for share in shares}
    corners = max(needed[long, side] for long in (-1.0, 1.0) for side in (-1.0, 1.0))
    assert max(needed.values()) > corners + 0.005 * tank.volume
    assert worst_covering_volume(tank, pickup, 0.19064, 0.49165) >= max(needed.values()) - 1e-4 * tank.volume


@given(st.floats(0.0, 0.5), st.floats(-0.5, 0.5), st.floats(0.0, 0.6), st.floats(0.0, 0.6))
def test_worst_is_blind_to_which_end_the_pickup_is_near(
    level: float, place: float, tilt_long: float, tilt_side: float
) -> None:
    one = PickUp(level * TANK.height, x=place * TANK.length)
    other = PickUp(level * TANK.height, x=-place * TANK.length)
    assert worst_covering_volume(TANK, one, tilt_long, tilt_side) == pytest.approx(
        worst_covering_volume(TANK, other, tilt_long, tilt_side), abs=1e-12
    )


@pytest.mark.parametrize("sizes", [(0.0, 0.4, 0.3), (0.9, -0.4, 0.3), (0.9, 0.4, math.nan)])
def test_refuses_impossible_tanks(sizes: tuple[float, float, float]) -> None:
    with pytest.raises(ImpossibleInput):
        BoxTank(*sizes)


@pytest.mark.parametrize("place", [(0.5, 0.0, 0.0), (0.02, 0.5, 0.0), (0.02, 0.0, -0.3)])
def test_refuses_a_pickup_outside_the_tank(place: tuple[float, float, float]) -> None:
    with pytest.raises(ImpossibleInput):
        covering_volume(TANK, PickUp(*place), 0.1, 0.0)


def test_refuses_impossible_attitudes_and_heights() -> None:
    with pytest.raises(ImpossibleInput):
        surface_slopes(math.radians(60.0), math.radians(40.0))
    with pytest.raises(OutsideRange):
        surface_slopes(2.0, 0.0)
    with pytest.raises(ImpossibleInput):
        PickUp(-0.01)
    with pytest.raises(ImpossibleInput):
        unusable_volume(TANK, 0.37)
    with pytest.raises(ImpossibleInput):
        worst_covering_volume(TANK, PickUp(0.02), -0.1, 0.0)
    with pytest.raises(ImpossibleInput):
        volume_below_surface(TANK, math.inf, 0.0, 0.0)


# Heat


def test_heating_a_kilogram_of_water() -> None:
    # Incropera table A.6: c_p of water at 300 K is 4179 J/(kg·K); 1 kg/s by 10 K takes 41.79 kW.
    assert heating_power(1.0, 4179.0, 10.0) == pytest.approx(41_790.0)


@given(st.floats(0.0, 5e3), st.floats(1.0, 50.0), st.floats(0.1, 5.0))
def test_at_the_steady_rise_the_walls_give_off_what_comes_in(heat: float, u: float, area: float) -> None:
    rise = steady_temperature_rise(heat, u, area)
    assert u * area * rise == pytest.approx(heat)
    assert cooler_duty(heat, u, area, rise) == pytest.approx(0.0, abs=1e-9 * (1 + heat))
    assert cooler_duty(heat, u, area, 0.0) == heat


@given(st.floats(0.0, 5e3), st.floats(1.0, 50.0), st.floats(0.1, 5.0), st.floats(0.0, 60.0))
def test_a_cooler_of_that_duty_holds_the_allowed_rise(heat: float, u: float, area: float, rise: float) -> None:
    left = heat - cooler_duty(heat, u, area, rise)
    assert steady_temperature_rise(left, u, area) <= rise + 1e-9


@pytest.mark.parametrize("arguments", [(-1.0, 10.0, 1.0), (100.0, 0.0, 1.0), (100.0, 10.0, -1.0)])
def test_refuses_impossible_heat(arguments: tuple[float, float, float]) -> None:
    with pytest.raises(ImpossibleInput):
        steady_temperature_rise(*arguments)
    with pytest.raises(ImpossibleInput):
        cooler_duty(*arguments, allowed_rise=10.0)


def test_refuses_impossible_heating() -> None:
    with pytest.raises(ImpossibleInput):
        heating_power(1.0, 0.0, 10.0)
    with pytest.raises(ImpossibleInput):
        heating_power(-1.0, 2000.0, 10.0)


@given(
    length=st.floats(0.3, 1.5),
    height=st.floats(0.1, 0.8),
    mouth=st.floats(0.0, 1.0),
    along=st.floats(-0.5, 0.5),
    across=st.floats(-0.5, 0.5),
    tilts=st.tuples(st.floats(0.0, 0.75), st.floats(0.0, 0.75)),
)
@settings(max_examples=25)
def test_the_worst_attitude_is_that_of_all_tried(
    length: float, height: float, mouth: float, along: float, across: float, tilts: tuple[float, float]
) -> None:
    # every twentieth of both tilts, either way; the pick-up anywhere, its two places apart
    tank = BoxTank(length, 0.45, height)
    pickup = PickUp(mouth * height, along * length, across * 0.45)
    steps = [share / 20.0 for share in range(-20, 21)]
    tried = max(covering_volume(tank, pickup, a * tilts[0], b * tilts[1]) for a in steps for b in steps)
    worst = worst_covering_volume(tank, pickup, *tilts)
    assert tried - 1e-5 * tank.volume <= worst <= tried + 0.005 * tank.volume  # nothing beyond what the steps leave out


def test_which_place_of_the_pickup_is_along_and_which_across() -> None:
    """Fuel that runs along the tank leaves a pick-up at its end dry, and one at its side not."""
    end, side = PickUp(0.02, x=0.4), PickUp(0.02, y=0.2)
    along = worst_covering_volume(TANK, end, 0.3, 0.0) - worst_covering_volume(TANK, side, 0.3, 0.0)
    across = worst_covering_volume(TANK, side, 0.0, 0.3) - worst_covering_volume(TANK, end, 0.0, 0.3)
    assert along > 0.1 * TANK.volume
    assert across > 0.1 * TANK.volume


def test_less_tilt_to_a_side_can_need_more_and_so_it_is_tried() -> None:
    """A flat tank, wide across: the same found as along it, when the tank and its tilts change places."""
    wide, long = BoxTank(0.50, 0.75, 0.17), BoxTank(0.75, 0.50, 0.17)
    more, less = math.radians(40.0), math.radians(30.0)
    across = worst_covering_volume(wide, PickUp(0.056, x=-0.16), less, more)
    along = worst_covering_volume(long, PickUp(0.056, y=-0.16), more, less)
    assert across == pytest.approx(along, rel=1e-6)
    steps = [share / 20.0 for share in range(21)]
    steepest = max(covering_volume(wide, PickUp(0.056, x=-0.16), share * less, more) for share in steps)
    assert across > 1.1 * steepest


@pytest.mark.parametrize(
    ("sizes", "place", "tilts", "worst_at"),
    [  # the worst attitude lies between the fifths of both tilts: above or below the worst of these
        ((1.8223, 0.9337, 0.1936), (0.10875, 0.0379, 0.1335), (0.4775, 0.4663), (0.04, 0.54)),
        ((1.3693, 0.7368, 0.1122), (0.06483, 0.1927, 0.1884), (0.4718, 0.4120), (0.26, 0.82)),
        ((1.5534, 0.8167, 0.1003), (0.05709, 0.0639, 0.1270), (0.5611, 0.5458), (0.06, 0.30)),
        ((1.5016, 0.5673, 0.2374), (0.14183, 0.0598, 0.0843), (0.4274, 0.5323), (0.12, 0.84)),
        ((1.4422, 0.6075, 0.2910), (0.16211, 0.0685, 0.0133), (0.2707, 0.5330), (0.72, 0.20)),
        ((1.5805, 0.7265, 0.1121), (0.06708, 0.4085, 0.0919), (0.3401, 0.5926), (0.40, 0.32)),
    ],
)
def test_the_worst_attitude_between_the_fifths(
    sizes: tuple[float, float, float],
    place: tuple[float, float, float],
    tilts: tuple[float, float],
    worst_at: tuple[float, float],
) -> None:
    tank, (height, x, y) = BoxTank(*sizes), place

    def needed(long: float, side: float) -> float:
        sx, sy = surface_slopes(long * tilts[0], side * tilts[1])
        return corner_sum(tank, height + sx * x + sy * y, sx, sy)

    shares = [share / 50.0 for share in range(1, 51)]
    tried, *at = max((needed(long, side), long, side) for long in shares for side in shares)
    assert at == pytest.approx(worst_at, abs=0.021)
    found = worst_covering_volume(tank, PickUp(height, x, y), *tilts)
    assert tried * (1.0 - 2e-5) <= found <= tried * 1.0004  # what fiftieths leave out


# -- where a surface stands --------------------------------------------------------------------------------------------
@given(tanks, st.floats(0.01, 0.99), slopes, slopes)
def test_the_surface_of_a_volume_holds_that_volume(tank: BoxTank, share: float, sx: float, sy: float) -> None:
    volume = share * tank.length * tank.width * tank.height
    height = surface_height(tank, volume, sx, sy)
    assert volume_below_surface(tank, height, sx, sy) == pytest.approx(volume, rel=1e-6)


def test_surface_heights_by_hand() -> None:
    tank = BoxTank(2.0, 1.0, 1.0)
    # level: volume over floor; with a slope of 0.5 along 2 m the surface goes from corner to corner at half the tank
    assert surface_height(tank, 1.5, 0.0, 0.0) == pytest.approx(0.75)
    assert surface_height(tank, 1.0, 0.5, 0.0) == pytest.approx(0.5)
    # a wedge of 1 m along the floor at a slope of 1: 1·1/2·1 = 0.5 m³, its edge over the middle of the tank
    assert surface_height(tank, 0.5, 1.0, 0.0) == pytest.approx(0.0, abs=1e-9)
    with pytest.raises(ImpossibleInput, match="2100 L do not go into a tank of 2000 L"):
        surface_height(tank, 2.1, 0.0, 0.0)
    # a wedge of 0.1 m along a floor of 1 m at a slope of 2: 0.1·0.2/2 = 0.01 m³; from 0.2 m at the wall, 1.25 m away
    # from the middle, the surface falls to -2.3 m there
    assert surface_height(BoxTank(1.0, 2.5, 0.3), 0.01, 0.0, 2.0) == pytest.approx(-2.3)
    assert surface_height(BoxTank(2.5, 1.0, 0.3), 0.01, -2.0, 0.0) == pytest.approx(-2.3)
    with pytest.raises(ImpossibleInput, match="61 L do not go into a tank of 60 L"):
        surface_height(BoxTank(0.5, 0.4, 0.3), 0.061, 0.0, 0.0)
    with pytest.raises(ImpossibleInput):
        surface_height(tank, -0.1, 0.0, 0.0)
