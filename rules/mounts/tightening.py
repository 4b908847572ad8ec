"""The rule about how tight the bolts of the mounts' brackets are."""

from __future__ import annotations

from typing import Any

from swaplint.api import Build, Verdict, all_of, cautions, is_fitted, path_of, quantity, rule

from .. import fastening, sources
from . import quantities as q


def _bolted(build: Build) -> list[Any]:
    return [mount for mount in q.mounts(build) if is_fitted(mount)]


def _diameter(mount: Any) -> float:
    return float(mount.bolts.size.removeprefix("M")) / 1000.0


@quantity(
    "mounts.bolt-preload",
    "force",
    "kN",
    formula="F = T/(0.2·d)",
    sources=[sources.MACHINE_DESIGN.giving("formula")],
    each=_bolted,
)
def bolt_preload(build: Build, mount: Any) -> float:
    """Force that each bolt of a mount's bracket is stretched with."""
    return fastening.preload(build, mount.bolts.torque, _diameter(mount))


@rule(
    "mounts.bolt-tightening",
    level="warning",
    due="build",
    sources=[
        fastening.TIGHT.giving("limit", "40 to 90 % of yield", demands=["tight-enough", "not-stretched"]),
        fastening.THREADS.giving("limit", "length of thread", demands=["thread"]),
        sources.MACHINE_DESIGN.giving("formula", "preload from torque"),
        sources.BOLTS.giving("formula", "yield and stress area by class and size"),
    ],
    cautions=[cautions.CRUSH],
    fallbacks=[fastening.NUT_FACTOR],
    adjust=["vehicle.mounts.*.bolts.torque"],
    about="vehicle.mounts",
    each=_bolted,
    bad=[
        {"vehicle.mounts.front_left.bolts.torque": "20 Nm"},
        {"vehicle.mounts.front_left.bolts.torque": "75 Nm"},
        {
            "vehicle.mounts.front_left.bolts.threads_in": "aluminium",
            "vehicle.mounts.front_left.bolts.engagement": "14 mm",
        },
    ],
    good=[{"vehicle.mounts.front_left.bolts.torque": "50 Nm"}],
)
def bolt_tightening(build: Build, mount: Any) -> Verdict:
    """Are the bolts of the mounts' brackets tightened enough and not too much, and screwed in far enough?

    Computes: the force that the torque stretches a bolt with, T/(0.2·d), over what its class and size bear at yield.
    Limit: 40 to 90 % of the yield strength; thread of one diameter in steel, 1.25 in cast iron, 2 in aluminium, nothing
    for a nut: common practice. The maker's own torque comes first: where it lies outside, say so to a person.
    Consequence: A loose bolt works and breaks, one that is stretched breaks at the next shock.
    Remedy: the torque that the sentence names, on clean dry threads; longer bolts or inserts.
    Cannot tell: oil on the threads, which makes the same torque stretch a bolt up to half as much again; paint in the
    joint, that settles.
    """
    bolts, on = mount.bolts, f"{path_of(mount)}.bolts"
    demands = fastening.tightened(build, bolts.torque, _diameter(mount), str(bolts.property_class), f"{on}.torque")
    return all_of(demands, thread=lambda: _thread(mount, on))


def _thread(mount: Any, on: str) -> Verdict:
    bolts = mount.bolts
    return fastening.engaged(lambda: bolts.engagement, _diameter(mount), str(bolts.threads_in), f"{on}.engagement")
