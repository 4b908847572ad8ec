"""What the mounts' quantities give where the unit is not alike on both sides, by hand from the sound spec."""

from __future__ import annotations

import math

import pytest
from swaplint_rules.mounts import movement  # type: ignore[import-not-found]
from told import edited

from swaplint.build.view import View
from swaplint.kit.edits import sound_spec
from swaplint.kit.trial import rule_base, value


def test_a_unit_rolls_about_the_middle_of_its_stiffness() -> None:
    # front left twice as stiff: (760 - 380)·270/(760 + 380 + 2·200) = 66.62 mm to the left of the crank
    edits = edited("vehicle.mounts.front_left.axial_stiffness = 760 N/mm")
    build = View(sound_spec(rule_base(), edits).build).build
    axis = 0.380 * 0.270 / 1.540
    assert value("mounts.roll-axis-side", edits) == pytest.approx(1000 * axis)
    left, right = movement.moved_up(build, axis + 0.150), movement.moved_up(build, axis - 0.150)
    assert left == pytest.approx(right)
    assert left > movement.moved_up(build, axis) == pytest.approx(movement.bounce_travel(build))


def test_roll_stiffness_is_counted_from_the_centre_of_gravity() -> None:
    # an engine of 235 kg that sits 100 mm to the left brings the centre of 368 kg 63.86 mm there: 1160 N/mm · that²
    aside = value("mounts.roll-stiffness", edited("engine.centre_of_gravity.y = 100 mm"))
    more = 1160e3 * (235 / 368 * 0.100) ** 2 * math.pi / 180
    assert aside - value("mounts.roll-stiffness") == pytest.approx(more)
