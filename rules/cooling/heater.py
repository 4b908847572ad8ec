"""The hoses of the cab heater against the engine's ports for them."""

from __future__ import annotations

import re
from functools import partial
from typing import Any

from swaplint.api import Build, Verdict, advice, does_not_apply, given, holds, is_fitted, path_of, shown

SAME_BORE = 1e-3
"""Hoses of millimetres and of inches that go on one port differ by no more, m: common practice."""


def hoses(build: Build) -> list[Any]:
    """The hoses between engine and cab heater."""
    fitted = [hose for hose in build.plumbing.hoses.values() if is_fitted(hose)]
    return [hose for hose in fitted if given(partial(_carries, hose)) in ("heater-feed", "heater-return")]


def _carries(hose: Any) -> str:
    return str(hose.carries)


def _bores(build: Build, hose: Any) -> list[float]:
    """The bores of the engine's ports for what a hose carries."""
    return [float(port.bore) for port in build.engine.coolant.ports.values() if port.use == hose.carries]


def judged(build: Build, hose: Any) -> Verdict:
    """Whether a hose is as wide as its port, or a joint that the spec lists steps from one to the other."""
    bores, on = _bores(build, hose), f"{path_of(hose)}.bore"
    if not bores:
        return does_not_apply("The engine has no port for it.")
    bore = min(bores, key=lambda bore: abs(hose.bore - bore))
    port = shown(bore, "length", "mm")
    says = f"The hose has {shown(hose.bore)}, the engine's port for it {port}"
    if abs(hose.bore - bore) <= 1.001 * SAME_BORE:
        return holds(True, f"{says}.", on=on)
    if _stepped(build, {round(bore * 1e3), round(hose.bore * 1e3)}):
        return holds(True, f"{says}: a joint of these sizes is listed.", on=on)
    says += ": a wider hose leaks hot coolant, a narrower one does not go on. Take one of the port's bore, or list the "
    return holds(False, f"{says}joint that steps from one to the other.", on=on, advice=advice(on, bore))


def _stepped(build: Build, sizes: set[int]) -> bool:
    """Whether a joint for coolant has these two sizes, mm."""
    for joint in given(lambda: list(build.joints.values())) or []:
        ends = given(lambda joint=joint: (str(joint.one.size), str(joint.other.size)))  # type: ignore[misc]
        found = {round(float(number)) for end in ends or () for number in re.findall(r"[\d.]*\d(?= ?mm)", end)}
        if given(lambda joint=joint: str(joint.carries)) == "coolant" and sizes <= found:  # type: ignore[misc]
            return True
    return False
