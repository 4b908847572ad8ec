"""The approvals and papers that the places ask for, for the hand-over sheet."""

from __future__ import annotations

from typing import Any

from swaplint.api import Build, Cells, given, listing
from swaplint.spec.systems.compliance import Approval, Requirement

from .law import each_asked, is_place


def _approvals(build: Build) -> list[Approval]:
    return [one for one in each_asked(build, "approvals") if not is_place(one)]


def _requirements(build: Build) -> list[Requirement]:
    return [one for one in each_asked(build, "requirements") if not is_place(one)]


@listing("compliance.approvals", "papers", each=_approvals)
def approvals(build: Build, approval: Approval) -> Cells:
    """An approval of what is altered."""

    def what() -> str:
        altered = ", ".join(str(one).replace("-", " ") for one in approval.for_any)
        return f"approval where one of these is altered: {altered}"

    return {"what": what, "who": lambda: str(approval.who), **_met(approval)}


@listing("compliance.requirements", "papers", each=_requirements)
def requirements(build: Build, requirement: Requirement) -> Cells:
    """A paper or inspection."""
    return {"what": lambda: str(requirement.what), "who": lambda: str(requirement.who), **_met(requirement)}


def _met(asked: Any) -> Cells:
    met = asked.met
    return {
        "done": lambda: "yes" if met.done else "no",
        "date": lambda: given(lambda: str(met.date)),
        "reference": lambda: given(lambda: str(met.reference)),
    }
