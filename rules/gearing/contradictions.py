"""Stated values of tyres and engine that cannot all be true: a person finds out which is wrong."""

from __future__ import annotations

from collections.abc import Callable
from itertools import pairwise

from swaplint.api import Build, Verdict, given, holds, needs_review, shown
from swaplint.engineering import tyres

MM, RPM, NM = ("length", "mm"), ("rotation", "r/min"), ("torque", "N m")
FAR_FROM_ITS_NEIGHBOURS = 2.0
"""How many times the torque of both its neighbours, or what part of it, no point of a curve has."""
AT_RATED = 0.5
"""Least share of its highest power that an engine has at rated speed: that is where its rated power is stated."""
SAME_TYRE = 0.05
"""How far a tyre may be from the diameter that its size gives: makes differ by some 2 %, worn ones by as much."""


def sizes_of_tyres(build: Build) -> tuple[float, float] | None:
    """The tyres' diameter as stated and as their size on the sidewall gives it, m; None where not both are known."""
    fitted = build.driveline.tyres
    stated, marked = given(lambda: float(fitted.overall_diameter)), given(lambda: fitted.designation)
    if stated is None or marked is None:
        return None
    try:
        named = tyres.read_designation(marked).overall_diameter
    except ValueError:
        return None
    return None if named is None else (stated, named)


def unreadable(build: Build) -> Verdict | None:
    """The verdict on a size that no sidewall bears; None where it can be read, or none is stated."""
    marked = given(lambda: str(build.driveline.tyres.designation))
    if marked is None:
        return None
    try:
        tyres.read_designation(marked)
    except ValueError as wrong:
        says = f"The tyres' size cannot be read: {wrong}."
        return needs_review(says.replace("..", "."), on="driveline.tyres.designation")
    return None


def tyre_size(stated: float, named: float) -> Verdict:
    """The verdict on the two diameters: a person looks where they differ by more than makes and wear do."""
    on = "driveline.tyres.overall_diameter"
    says = f"By its sidewall the tyre is {shown(named, *MM)} across and {shown(stated, *MM)} are stated"
    if abs(stated / named - 1.0) <= SAME_TYRE:
        return holds(True, f"{says}.", on=on)
    return needs_review(f"{says}, on which every speed rests. Measure the tyre, and read its sidewall.", on=on)


def stated_speeds(build: Build) -> list[tuple[str, float]]:
    """The sheet's speeds that are stated, in the order in which they rise."""
    speed = build.engine.speed
    named = {
        "idle": given(lambda: speed.idle),
        "rated": given(lambda: speed.rated),
        "governed": given(lambda: speed.governed_max),
        "overspeed": given(lambda: speed.overspeed_max),
    }
    return [(name, float(value)) for name, value in named.items() if value is not None]


def speeds_in_order(build: Build) -> Verdict:
    """The verdict on them: a person looks where one lies above the next."""
    for (low, here), (high, there) in pairwise(stated_speeds(build)):
        if here > there:
            says = f"The {low} speed of {shown(here, *RPM)} is above the {high} speed of {shown(there, *RPM)}: one of "
            return needs_review(f"{says}the two is wrong. Look at the sheet.", on="engine.speed")
    return holds(True, "The engine's speeds rise from idle to the limit.", on="engine.speed")


# -- what the torque curve and the owner's wishes make of each other --------------------------------------------------
def torque_curve(build: Build) -> Verdict | None:
    """The verdict of a torque curve with a slip of the pen in it; None where it has none that can be seen."""
    points = given(lambda: [(float(point.speed), float(point.torque)) for point in build.engine.torque_curve]) or []
    for (_, before), (speed, torque), (_, after) in zip(points, points[1:], points[2:], strict=False):
        most, least = max(before, after), min(before, after)
        if torque * FAR_FROM_ITS_NEIGHBOURS < least or torque > FAR_FROM_ITS_NEIGHBOURS * most:
            return _slip(speed, torque, f"between {shown(before, *NM)} and {shown(after, *NM)}")
    rated = given(lambda: float(build.engine.speed.rated))
    there = [point for point in points if rated is not None and abs(point[0] / rated - 1.0) < 0.02]
    if there and there[0][0] * there[0][1] < AT_RATED * max(speed * torque for speed, torque in points):
        return _slip(*there[0], "less than half of the highest power on the curve, at rated speed")
    return None


def _slip(speed: float, torque: float, where: str) -> Verdict:
    says = f"The torque curve has {shown(torque, *NM)} at {shown(speed, *RPM)}, {where}: look at its decimal point and "
    return needs_review(f"{says}its unit.", on="engine.torque_curve")


def wishes(build: Build) -> dict[str, Callable[[], Verdict]]:
    """The demands that a person looks at: grades, grip and torques that cannot be meant together."""
    design, drive = build.build.design, build.driveline.drivetrain
    found: dict[str, Callable[[], Verdict]] = {}
    if given(lambda: design.start_grade > design.grade_max):
        says = f"It is to move off on {shown(design.start_grade)} and to climb no more than {shown(design.grade_max)}: "
        says += "one of the two is wrong."
        found["grades"] = lambda: needs_review(says, on="build.design.grade_max")
    if given(lambda: drive.highest_grip < drive.traction_coefficient):
        less = f"The tyres are counted on for a grip of {drive.traction_coefficient:.2f} when they climb, and for "
        less += f"{drive.highest_grip:.2f} at the most, which shafts and axles are judged by: one of the two is wrong."
        found["highest-grip"] = lambda: needs_review(less, on="driveline.drivetrain.highest_grip")
    most = given(lambda: max(float(point.torque) for point in build.engine.torque_curve))
    if most is not None and given(lambda: build.engine.torque.launch > most):
        launch = f"The engine is said to give {shown(build.engine.torque.launch)} to move off, and its curve has "
        launch += f"{shown(most, *NM)} at the most: look at its decimal point and its unit."
        found["launch-torque"] = lambda: needs_review(launch, on="engine.torque.launch")
    return found
