"""The hoses of the cab heater against the engine's ports for them."""

from __future__ import annotations

import re
from typing import Any

from swaplint.api import Build, Verdict, advice, given, holds, is_fitted, path_of, shown

SAME_BORE = 1e-3
"""Hoses of millimetres and of inches that go on one port differ by no more, m: common practice."""


def unlike_ports(build: Build) -> list[Any]:
    """The hoses of the cab heater whose bore is that of none of the engine's ports for it."""
    return [hose for hose in build.plumbing.hoses.values() if is_fitted(hose) and _misses_port(build, hose)]


def _bores(build: Build, hose: Any) -> list[float]:
    """The bores of the engine's ports for what a hose carries."""
    return [float(port.bore) for port in build.engine.coolant.ports.values() if port.use == hose.carries]


def _misses_port(build: Build, hose: Any) -> bool:
    if hose.carries not in ("heater-feed", "heater-return"):
        return False
    bores = given(lambda: _bores(build, hose)) or []
    return bool(bores) and not any(abs(hose.bore - bore) <= 1.001 * SAME_BORE for bore in bores)


def judged(build: Build, hose: Any) -> Verdict:
    """Whether a joint that the spec lists steps from the port to a hose of another bore."""
    bore, on = _bores(build, hose)[0], f"{path_of(hose)}.bore"
    port = shown(bore, "length", "mm")
    says = f"The hose has {shown(hose.bore)}, the engine's port for it {port}"
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
