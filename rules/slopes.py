"""The steepest slope along the vehicle that it works on, for engine and tank alike: what is oiled or drawn there."""

from __future__ import annotations

import math

from swaplint.api import Build, given

GENTLER = "The steepest climb is asked for; a start or descent that is steeper is one that the owner states."
WITHOUT = {"build.design.start_grade": GENTLER, "build.design.descent_grade": GENTLER}
"""Why a rule on slopes may do without the other grades of the design."""


def steepest_along(build: Build) -> float:
    """The steepest of tilt, climb, start and long descent that the vehicle is designed for, rad."""
    design = build.build.design
    stated = (design.grade_max, given(lambda: design.start_grade), given(lambda: design.descent_grade))
    return max(design.tilt_long, *(math.atan(grade) for grade in stated if grade is not None))
