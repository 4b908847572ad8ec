"""The pump that moves the coolant: the engine's own, which turns with it, or an electric one in its place."""

from __future__ import annotations

from swaplint.api import Build, given, is_fitted

ELECTRIC_PUMP = "plumbing.cooling.electric_pump"


def is_electric(build: Build) -> bool:
    """Whether the spec says that an electric pump moves the coolant."""
    return given(lambda: is_fitted(build.plumbing.cooling.electric_pump)) is True


def flow_field(build: Build) -> str:
    """The field of the coolant's flow."""
    return f"{ELECTRIC_PUMP}.flow" if is_electric(build) else "engine.coolant.flow"


def rated_flow(build: Build) -> float:
    """Coolant through the radiator at rated speed, thermostat open, m³/s."""
    return build.plumbing.cooling.electric_pump.flow if is_electric(build) else build.engine.coolant.flow


def flow_at(build: Build, speed: float) -> float:
    """The same at an engine speed, rad/s: the engine's own pump goes with it, an electric one does not."""
    flow = rated_flow(build)
    return flow if is_electric(build) else flow * speed / build.engine.speed.rated
