"""Engineering functions: pure, on SI floats, with no knowledge of specs, rules or files.

Each module is one field of the trade. Each function states its formula, where the formula comes from,
what its arguments mean, their unit and the range in which it holds, and carries an example that runs.
Impossible arguments raise `ImpossibleInput`; arguments outside the range of a formula raise `OutsideRange`.
"""

from swaplint.engineering.guards import ImpossibleInput, OutsideRange

__all__ = ["ImpossibleInput", "OutsideRange"]
