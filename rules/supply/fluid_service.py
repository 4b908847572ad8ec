"""The fluids of brakes, clutch, steering and air conditioning, and when each fluid is changed."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from swaplint.api import Build, Cells, given, is_fitted, listing, name_of, quantity, shown

from .. import allowances
from ..gearing import chain

BRAKE, CLUTCH, STEERING = "brake fluid", "clutch fluid", "steering fluid"


def hydraulic_fluids(build: Build) -> Iterator[tuple[str, Any]]:
    """The fluids of brakes, clutch and steering that the build has, each with its name."""
    if given(lambda: str(build.vehicle.brakes.assist)) != "air":
        yield BRAKE, build.vehicle.brakes.fluid
    clutch = build.driveline.clutch
    has_pedal = given(lambda: str(build.driveline.gearbox.kind)) == "manual"
    if has_pedal and given(lambda: str(clutch.worked_by)) in (None, "hydraulics"):
        yield CLUTCH, clutch.fluid
    if given(lambda: str(build.vehicle.steering.assist)) == "hydraulic":
        yield STEERING, build.vehicle.steering.fluid


def _fluids(build: Build) -> list[Any]:
    return [fluid for _, fluid in hydraulic_fluids(build)]


@quantity("supply.hydraulic-fluid-to-buy", "volume", "L", formula="V · 1.05", sources=[allowances.FILL], each=_fluids)
def hydraulic_fluid_to_buy(build: Build, fluid: Any) -> float:
    """Fluid to buy for a fill of brakes, clutch or steering."""
    return allowances.bought(fluid.volume)


@listing("supply.hydraulic-fluids", "fluids", each=hydraulic_fluids)
def hydraulic(build: Build, what: str, fluid: Any) -> Cells:
    """The fluid of brakes, clutch or steering."""
    return {
        "what": lambda: what if what != CLUTCH else _clutch_fluid(build),
        "kind": lambda: " or ".join(str(name) for name in fluid.standards),
        "fill": lambda: fluid.volume,
        "to_buy": lambda: hydraulic_fluid_to_buy(build, fluid),
    }


def _clutch_fluid(build: Build) -> str:
    """Its name, where what works the clutch is known: by a cable it has none."""
    return CLUTCH if build.driveline.clutch.worked_by == "hydraulics" else ""


@listing("supply.refrigerant", "fluids")
def refrigerant(build: Build) -> Cells | None:
    """What the air conditioning is filled with, by a certified person."""
    cooling = build.plumbing.air_conditioning
    if not is_fitted(cooling):
        return None
    return {
        "what": lambda: "refrigerant",
        "kind": lambda: str(cooling.refrigerant),
        "fill": lambda: cooling.charge,
    }


# -- when each is changed ---------------------------------------------------------------------------------------------
def _changed(build: Build) -> Iterator[tuple[str, Any]]:
    """All that is poured in and changed again."""
    yield "engine oil and its filter", build.engine.oil.fill
    yield "coolant", build.plumbing.cooling.coolant
    yield "gearbox oil", build.driveline.gearbox.oil
    if given(lambda: is_fitted(build.driveline.transfer)):
        yield "transfer case oil", build.driveline.transfer.oil
    for axle in given(lambda: list(chain.oiled_axles(build))) or []:
        yield f"{name_of(axle)} axle oil", axle.oil
    yield from hydraulic_fluids(build)


@listing("supply.changes", "service", each=_changed)
def changes(build: Build, what: str, fluid: Any) -> Cells:
    """When a fluid is changed."""

    def interval() -> str:
        stated = [given(lambda: fluid.change_distance), given(lambda: fluid.change_time)]
        known = [shown(one) for one in stated if one is not None]
        if not known:
            return f"every {shown(fluid.change_distance)}"
        return f"changed every {' or '.join(known)}" + (", whichever comes first" if len(known) > 1 else "")

    return {"what": lambda: what, "interval": interval}


@listing("supply.refrigerant-leaks", "service")
def refrigerant_leaks(build: Build) -> Cells | None:
    """That a circuit of refrigerant is opened by a certified person alone."""
    if not is_fitted(build.plumbing.air_conditioning):
        return None
    return {
        "what": lambda: "air conditioning",
        "interval": lambda: "when it cools no more",
        "note": lambda: "opened and filled by a certified person alone",
    }
