"""What a pack adds to the take-off is checked when it is loaded, and by its derived test."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

from swaplint.api import Build
from swaplint.declare.listings import Cells, Listing, check_listing, listing
from swaplint.host.packs import LoadedPack, RuleBase
from swaplint.kit import listings
from swaplint.kit.trial import rule_base


def things(build: Build) -> Cells | None:
    """A thing."""
    return {"what": lambda: "thing", "length": lambda: build.driveline.shafts["front"].length}


def silent(build: Build) -> Cells | None:
    return None


@pytest.mark.parametrize(
    ("id", "list_", "function", "says"),
    [
        ("Things", "belts", things, "is not the id of a listing; one looks like power.cables"),
        ("acme.things", "nuts", things, "there is no list 'nuts'; there are parts, cables"),
        ("acme.things", "belts", silent, "needs a docstring"),
    ],
)
def test_what_is_declared_unsoundly_is_refused(
    id: str, list_: str, function: Callable[..., Cells | None], says: str
) -> None:
    with pytest.raises(ValueError, match=says):
        check_listing(listing(id, list_)(function))


def _faults(cells: Callable[[Build], dict[str, Any]]) -> list[str]:
    one = Listing(cells, "acme.things", "belts", None)
    base = RuleBase([LoadedPack("acme", "1", False, listings=[one])], [], rule_base().model)
    return listings.check_listing(base, one)


def test_the_derived_test_finds_what_is_wrong() -> None:
    assert _faults(lambda build: {"what": lambda: "a", "length": lambda: build.vehicle.wheelbase}) == []
    (lacks,) = _faults(lambda build: {"what": lambda: "a", "length": lambda: build.electrics.frame_drop})
    assert lacks == "acme.things: on the sound spec a row lacks electrics.frame_drop"
    (raised, again) = _faults(lambda build: {"what": lambda: "a", "length": lambda: 1 / 0})
    assert "raised ZeroDivisionError" in raised
    assert again == raised, "on both specs"
