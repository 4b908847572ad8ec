"""The feeds of the engine's control unit: the nodes that they enter at, and the voltage lost on the way there.

The network of cables, and what the key does to it, is the one that the power pack walks.
"""

from __future__ import annotations

from typing import Any

from swaplint.api import Build, OutsideRange, Practice, given, is_fitted, or_practice, practice, quantity
from swaplint.engineering import conductors

from .. import sources
from ..power import network as power
from ..power import quantities as power_quantities
from ..power import units
from ..power.key import SOLENOID, cables_at, closing, direct, feeding, live, terminals
from ..power.units import pin_of

DIAGNOSTIC = "diagnostic"
FAN_OUTPUT = "ecm-fan"

__all__ = [
    "DIAGNOSTIC",
    "FAN_OUTPUT",
    "FEED_DROP",
    "SOLENOID",
    "cables_at",
    "closing",
    "direct",
    "drop_limit",
    "fed",
    "feed_drop",
    "feeding",
    "feeds",
    "live",
    "other_feeds",
    "pin_of",
    "terminals",
]

FEED_DROP = Practice(
    "0.5 V lost on a 12 V control unit feed at its highest current",
    0.5,
    practice("0.5 V lost on a feed of a 12 V control unit, there and back"),
)


def feeds(build: Build) -> list[Any]:
    """The feeds that the engine's control unit asks for."""
    return list(build.engine.ecm.feeds.values()) if is_fitted(build.engine.ecm) else []


def other_feeds(build: Build) -> list[Any]:
    """The feeds that other control units than the engine's ask for, where the build wires them."""
    wired = [unit for unit in units.others(build) if not units.is_kept(unit)]
    return [feed for unit in wired for feed in _stated_feeds(unit)]


def _stated_feeds(unit: Any) -> list[Any]:
    return given(lambda: units.feeds_of(unit)) or []


def fed(build: Build) -> list[Any]:
    """Those of all feeds that a cable leads to."""
    return [feed for feed in [*feeds(build), *other_feeds(build)] if cables_at(build, pin_of(feed))]


@quantity(
    "controls.feed-drop",
    "voltage",
    "V",
    formula="ΔU = I_max · (Σ R of the cables from battery or key to the pin + R_back), at 20 °C",
    sources=[power_quantities.RESISTANCE, sources.OHM.giving("formula", "drop along resistances in series")],
    each=fed,
)
def feed_drop(build: Build, feed: Any) -> float:
    """Voltage lost on a feed of a control unit at its highest current, there and back."""
    way = feeding(build, pin_of(feed))
    if not way:
        raise OutsideRange(f"no cable leads from {power.POSITIVE} or from the key switch to {pin_of(feed)}")
    out = sum(power_quantities.cable_resistance(build, cable) for cable in way)
    return conductors.voltage_drop(feed.current, out + power_quantities.cable_return(build, way[-1]))


def drop_limit(build: Build, feed: Any) -> float:
    """Voltage that may be lost on a feed: the sheet's, else common practice in proportion to the system's voltage."""
    stated = given(lambda: feed.drop_max)
    if stated is not None:
        return float(stated)
    return or_practice(lambda: feed.drop_max, FEED_DROP) * float(build.electrics.nominal_voltage) / 12.0
