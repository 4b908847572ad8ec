"""What is bought and cut beyond what is built in: common practice, named on every sheet that uses it."""

from swaplint.api import practice

CUT_SHARE = 0.15
CUT = practice("cable, hose and pipe are cut 15 % longer than they run: ends, bends, a wrong cut").giving(
    "formula", "15 % more than the run"
)
"""For every quantity that says how much of something is cut."""

FILL_SHARE = 0.05
FILL = practice("5 % more of a fluid is bought than a fill takes: what is spilled, bled and topped up").giving(
    "formula", "5 % more than the fill"
)
"""For every quantity that says how much of a fluid is bought."""


def cut(run: float, pieces: float = 1.0) -> float:
    """What is cut for a run, of so many alike pieces side by side.

    >>> round(cut(2.0), 3), round(cut(2.0, 2), 3)
    (2.3, 4.6)
    """
    return run * pieces * (1.0 + CUT_SHARE)


def bought(fill: float) -> float:
    """What is bought of a fluid.

    >>> round(bought(20.0), 3)
    21.0
    """
    return fill * (1.0 + FILL_SHARE)
