"""Estimates from what can be measured: the worked examples, by hand."""

from __future__ import annotations

import pytest

from swaplint.kit.trial import one, value

# -- mounts ----------------------------------------------------------------------------------------------------------
LEFT = "vehicle.mounts.front_left"


def test_a_mount_by_how_far_it_sinks() -> None:
    # 60 kg more make it sink 3.2 mm: 60 · 9.80665/3.2 = 183.9 N/mm; 1.3 times that when shaken: 239 N/mm
    measured = {f"{LEFT}.axial_stiffness": None, f"{LEFT}.sink_load": "60 kg", f"{LEFT}.sink": "3.2 mm"}
    assert value("mounts.stiffness-from-sink", {**measured, f"{LEFT}.dynamic_factor": 1.3}, part="front_left") == (
        pytest.approx(239.0, rel=0.002)
    )
    # without the factor, that of rubber in general: 1.6 · 183.9 = 294.2
    alone = {**measured, f"{LEFT}.dynamic_factor": None}
    assert value("mounts.stiffness-from-sink-alone", alone, part="front_left") == pytest.approx(294.2, rel=0.001)
    found = one("mounts.isolation", alone, demand="bounce")
    assert [(e.field, e.by.id) for e in found.estimates] == [
        (f"{LEFT}.axial_stiffness", "mounts.stiffness-from-sink-alone")
    ]
    # under 3 mm half a millimetre of reading is too much: the field stays unknown
    assert one("mounts.isolation", {**alone, f"{LEFT}.sink": "2.9 mm"}, demand="bounce").kind == "open"


def test_a_mount_by_how_far_a_pull_moves_it() -> None:
    # 300 N move it 5 mm: 60 N/mm, 1.3 times that when shaken: 78 N/mm
    measured = {f"{LEFT}.shear_stiffness": None, f"{LEFT}.pull": "300 N", f"{LEFT}.pull_give": "5 mm"}
    factor = {f"{LEFT}.dynamic_factor": 1.3}
    assert value("mounts.shear-stiffness-from-pull", {**measured, **factor}, part="front_left") == pytest.approx(78.0)
    alone = {**measured, f"{LEFT}.dynamic_factor": None}
    assert value("mounts.shear-stiffness-from-pull-alone", alone, part="front_left") == pytest.approx(96.0)


def test_a_unit_by_its_swing() -> None:
    # the unit of the sound spec weighs 368 kg: 368 · 9.80665 · 0.35² · 2.4²/(4π² · 2.0) = 32.25 kg·m²
    swung = {
        "vehicle.engine_unit.roll_inertia": None,
        "vehicle.engine_unit.swing_radius": "350 mm",
        "vehicle.engine_unit.swing_period": "2.4 s",
        "vehicle.engine_unit.swing_length": "2000 mm",
    }
    assert value("mounts.roll-inertia-by-swing", swung) == pytest.approx(32.25, rel=0.002)
    assert value("mounts.roll-inertia", swung) == pytest.approx(32.25, rel=0.002)
