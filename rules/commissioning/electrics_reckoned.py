"""What was reckoned for the electrics, at the conditions in which it was measured."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from swaplint.api import Build, OutsideRange, Verdict, given, path_of, shown

from ..network import quantities as bus_quantities
from ..network import topology
from ..power import network
from ..power import quantities as power
from .compared import Assumption, compare, of_field
from .trials import BUS, CHARGING, CRANKING, warm_copper

JOINT_SPREAD = 0.1e-3
"""What the joints of one way may have more than 0.03 mΩ each, Ω: common practice, a good one has up to 0.2 mΩ."""
LENGTH_SHARE, SIZE_SHARE, FRAME_SHARE = 0.05, 0.05, 0.5
"""How far lengths and copper of cables and the resistance of a frame are usually off."""
KEY_OFF_SHARE = 0.5
"""How far the current with the key off is usually off, before it is measured: common practice."""
CHARGE_JOINT_SPREAD = 1e-3
"""What the joints of a charge cable may have more, Ω: common practice; they are smaller than those of the starter."""
FEWEST = 0.45
"""One of two terminators is missing, and the other is at the upper end of its 10 %, as a share of the two."""
MOST_CABLES = 4
"""How many cables of a way are looked at one by one."""


def _ohms(value: float) -> str:
    return shown(value, "resistance", "mohm", digits=3)


def _joint(build: Build, predicted: float, to_volts: float) -> Assumption:
    """That no joint is loose or dirty: what one of them takes besides is nothing."""
    trial = build.measured.cranking
    worst = given(lambda: trial.worst_joint_drop)
    name = given(lambda: trial.worst_joint)
    one = f"the joint '{name}'" if worst is not None and name is not None else "one loose or dirty joint"
    return Assumption(
        lambda extra: f"{one} of {_ohms(extra)}, which takes {shown(extra * to_volts, 'voltage', 'V', digits=2)}",
        lambda extra: predicted + extra * to_volts,
        0.0,
        JOINT_SPREAD,
        (0.0, 1.0),
        f"the voltage across each joint in turn while the starter turns, the worst into {CRANKING}.worst_joint_drop",
        fact=None if worst is None else worst / to_volts,
    )


def _cables(build: Build, parts: list[Any], predicted: Callable[[Build], float]) -> list[Assumption | None]:
    found: list[Assumption | None] = []
    for part in parts[:MOST_CABLES]:
        path = path_of(part)
        found += [
            of_field(
                build,
                f"{path}.length",
                predicted,
                lambda x, path=path: f"{path} of {shown(x, 'length', 'm', digits=2)} length",  # type: ignore[misc]
                LENGTH_SHARE,
                f"the length of {path}",
            ),
            of_field(
                build,
                f"{path}.size",
                predicted,
                lambda x, path=path: f"{path} of {shown(x, 'area', 'mm2', digits=2)} copper",  # type: ignore[misc]
                SIZE_SHARE,
                f"the copper of {path}: weigh a length of it",
            ),
        ]
    return found


def _crank(build: Build, field: str, what: str, way: Callable[[Build], float], parts: list[Any]) -> Verdict:
    trial = build.measured.cranking
    warm = trial.current * warm_copper(trial.air)

    def predicted(other: Build) -> float:
        return way(other) * warm

    reckoned = predicted(build)
    assumptions = [_joint(build, reckoned, warm), *_cables(build, parts, predicted)]
    for path, words in (
        ("electrics.frame_resistance", "the frame between the ground points"),
        ("electrics.isolator.resistance", "the main switch"),
    ):
        assumptions.append(
            of_field(
                build,
                path,
                predicted,
                lambda x, words=words: f"{words} with {_ohms(x)}",  # type: ignore[misc]
                FRAME_SHARE,
                f"the voltage across {words} while the starter turns",
            )
        )
    assumptions.append(
        of_field(
            build,
            f"{CRANKING}.current",
            lambda other: way(build) * other.measured.cranking.current * warm_copper(trial.air),
            lambda x: f"a current of {shown(x, 'current', 'A', digits=3)}",
            0.03,
            "the current with a second clamp",
        )
    )
    when = f" for {shown(trial.current)} in air of {shown(trial.air)}"
    return compare(build, f"{CRANKING}.{field}", reckoned, assumptions, what=what, when=when)


def crank_feed(build: Build) -> Verdict:
    """Drop on the way to the starter."""
    parts = network.starter_feed(build) or []
    return _crank(build, "feed_drop", "Drop on the way to the starter", power.crank_feed, parts)


def crank_return(build: Build) -> Verdict:
    """Drop on the way back from the starter."""
    parts = network.return_path(build, network.ENGINE) or []
    return _crank(build, "return_drop", "Drop on the way back", power.crank_return, parts)


# -- charging and bus -------------------------------------------------------------------------------------------------
def key_off(build: Build) -> Verdict:
    """Current with the key off."""
    return compare(
        build,
        f"{CHARGING}.key_off_current",
        float(build.electrics.parasitic_current),
        [
            of_field(
                build,
                "electrics.parasitic_current",
                lambda other: float(other.electrics.parasitic_current),
                lambda x: f"{shown(x, 'current', 'mA', digits=2)} in all, as with a consumer that stays on,",
                KEY_OFF_SHARE,
                "the current while the fuses are pulled one by one",
            )
        ],
        what="Current with the key off",
    )


def charge_feed(build: Build) -> Verdict:
    """Drop from the alternator to the battery's positive."""
    trial = build.measured.charging
    current = trial.output_current
    ways = network.cables_for(build, "alternator")
    if not ways:
        raise OutsideRange("no cable that leads from the alternator is stated")

    def predicted(other: Build) -> float:
        cable = network.cables_for(other, "alternator")[0]
        both = power.charge_drop(other, cable) / other.engine.alternator.rated_current
        return current * (both - power.cable_return(other, cable))

    reckoned = predicted(build)
    assumptions = [
        Assumption(
            lambda extra: f"one loose or dirty joint of {_ohms(extra)}",
            lambda extra: reckoned + extra * current,
            0.0,
            CHARGE_JOINT_SPREAD,
            (0.0, 1.0),
            "the voltage across each joint of the charge cable, and across its fuse",
        ),
        *_cables(build, ways[:1], predicted),
    ]
    when = f" for {shown(current)}"
    what = "Drop from alternator to battery"
    return compare(build, f"{CHARGING}.output_drop", reckoned, assumptions, what=what, when=when)


def bus(build: Build) -> Verdict:
    """Resistance of the bus that the engine is on."""
    line = engine_line(build)

    def predicted(other: Build) -> float:
        return bus_quantities.termination(other, engine_line(other))

    reckoned = predicted(build)
    count = len(topology.terminators(build, topology.bus_of(build, line)))
    assumptions = [
        Assumption(
            lambda x: "a terminator that nobody listed" if x > count else "a terminator that is missing or open",
            lambda x: reckoned * count / x,
            float(count),
            0.05,
            (FEWEST * count, 4.0 * count),
            "each device and each end of the trunk by itself, unplugged",
        )
    ]
    return compare(build, f"{BUS}.resistance", reckoned, assumptions, what="Resistance of the bus")


def engine_line(build: Build) -> Any:
    """The trunk that the engine package is on; the first where none tells."""
    found = topology.lines(build)
    if not found:
        raise OutsideRange("no trunk of a bus is stated")
    engine = path_of(build.engine.network)
    on = [line for line in found if engine in map(path_of, topology.bus_of(build, line).devices.values())]
    return (on or found)[0]
