"""The rule about how tight the bolts between engine and gearbox are."""

from __future__ import annotations

from typing import Any

from swaplint.api import Build, Verdict, all_of, cautions, path_of, quantity, rule

from .. import fastening, sources
from .stack import stack


class _Bolts:
    """The bolts of a joint, whichever part has them."""

    def __init__(self, part: Any) -> None:
        self.housing = path_of(part) == HOUSING
        self.part, self.on = part, f"{HOUSING}.bolts" if self.housing else path_of(part)

    @property
    def diameter(self) -> float:
        return float(self.part.bolts.diameter if self.housing else self.part.bolt_diameter)

    @property
    def torque(self) -> float:
        return self.part.bolts.torque if self.housing else self.part.bolt_torque  # type: ignore[no-any-return]

    @property
    def property_class(self) -> str:
        return str(self.part.bolts.property_class if self.housing else self.part.bolt_class)

    @property
    def torque_field(self) -> str:
        return f"{self.on}.{'torque' if self.housing else 'bolt_torque'}"


HOUSING = "engine.flywheel_housing"


def bolted(build: Build) -> list[Any]:
    """The pieces between engine and gearbox; the housing itself where the gearbox bolts straight to it."""
    return stack(build) or [build.engine.flywheel_housing]


def torque_of(part: Any) -> float:
    """What the bolts of a piece, or of the housing, are tightened to."""
    return _Bolts(part).torque


@quantity(
    "driveline.bolt-preload",
    "force",
    "kN",
    formula="F = T/(0.2·d)",
    sources=[sources.MACHINE_DESIGN.giving("formula")],
    each=bolted,
)
def bolt_preload(build: Build, part: Any) -> float:
    """Force that each bolt between engine and gearbox is stretched with."""
    joint = _Bolts(part)
    return fastening.preload(build, joint.torque, joint.diameter)


@rule(
    "driveline.bolt-tightening",
    level="warning",
    due="build",
    sources=[
        fastening.TIGHT.giving("limit", "40 to 90 % of yield", demands=["tight-enough", "not-stretched"]),
        fastening.THREADS.giving("limit", "length of thread"),
        sources.MACHINE_DESIGN.giving("formula", "preload from torque"),
        sources.BOLTS.giving("formula", "yield and stress area by class and size"),
    ],
    cautions=[cautions.CRUSH],
    fallbacks=[fastening.NUT_FACTOR],
    adjust=["driveline.adapter.bolt_torque", "engine.flywheel_housing.bolts.torque"],
    about="driveline.adapter",
    each=bolted,
    bad=[
        {"driveline.adapter.bolt_torque": "20 Nm"},
        {"driveline.adapter.bolt_torque": "75 Nm"},
    ],
    good=[{"driveline.adapter.bolt_torque": "50 Nm"}],
)
def bolt_tightening(build: Build, part: Any) -> Verdict:
    """Are the bolts between engine and gearbox tightened enough and not too much?

    Computes: the force that the torque stretches a bolt with, T/(0.2·d), over what its class and size bear at yield.
    Limit: 40 to 90 % of the yield strength; where the gearbox bolts straight to the housing also thread of one diameter
    in steel, 1.25 in cast iron and 2 in aluminium: common practice. That of an adapter: driveline.adapter-pieces. The
    maker's own torque comes first.
    Consequence: The gearbox works loose, or its bolts break and it hangs by the rest.
    Remedy: the torque that the sentence names, on clean dry threads, crosswise in two rounds.
    Cannot tell: oil on the threads, which makes the same torque stretch a bolt up to half as much again.
    """
    joint = _Bolts(part)
    demands = fastening.tightened(build, joint.torque, joint.diameter, joint.property_class, joint.torque_field)
    if joint.housing:
        demands["thread"] = lambda: fastening.engaged(
            lambda: part.bolts.engagement,
            joint.diameter,
            str(part.bolts.threads_in),
            f"{joint.on}.engagement",
        )
    return all_of(demands)
