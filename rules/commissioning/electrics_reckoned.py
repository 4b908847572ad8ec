"""What was reckoned for the electrics, at the conditions in which it was measured."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from swaplint.api import Build, Verdict, given, path_of, shown

from ..power import network
from ..power import quantities as power
from .compared import Assumption, compare, of_field
from .starting import CRANKING, GOOD_JOINT, warm_copper

JOINT_SPREAD = 0.1e-3
"""What the joints of one way may have more than 0.03 mΩ each, Ω: common practice, a good one has up to 0.2 mΩ."""
LENGTH_SHARE, SIZE_SHARE, FRAME_SHARE = 0.05, 0.05, 0.5
"""How far lengths and copper of cables and the resistance of a frame are usually off."""
MOST_CABLES = 4
"""How many cables of a way are looked at one by one."""


def _ohms(value: float) -> str:
    return shown(value, "resistance", "mohm", digits=3)


def _joint(build: Build, predicted: float, to_volts: float) -> Assumption:
    """That no joint is loose or dirty: what one of them takes besides is nothing."""
    trial = build.measured.cranking
    worst = given(lambda: trial.worst_joint_drop)
    bad = worst is not None and worst > GOOD_JOINT * trial.current
    name = given(lambda: trial.worst_joint)
    one = f"the joint '{name}'" if bad and name is not None else "one loose or dirty joint"
    return Assumption(
        lambda extra: f"{one} of {_ohms(extra)}, which takes {shown(extra * to_volts, 'voltage', 'V', digits=2)}",
        lambda extra: predicted + extra * to_volts,
        0.0,
        JOINT_SPREAD,
        (0.0, 1.0),
        f"the voltage across each joint in turn while the starter turns, the worst into {CRANKING}.worst_joint_drop",
        fact=worst / to_volts if worst is not None and bad else None,
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


CRANKED = (f"{CRANKING}.current", f"{CRANKING}.air")
COMPARISONS: dict[str, tuple[tuple[str, ...], Callable[[Build], Verdict]]] = {
    "crank-feed": ((*CRANKED, f"{CRANKING}.feed_drop"), crank_feed),
    "crank-return": ((*CRANKED, f"{CRANKING}.return_drop"), crank_return),
}
