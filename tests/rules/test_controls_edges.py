"""Which way a control unit is fed, where there are several. Each number with its working."""

from __future__ import annotations

from typing import Any

import pytest
from advising import advised

from swaplint.kit.trial import of_part, one, value

CABLES = "electrics.cables"
WIRE = {"role": "other", "size": "4 mm2", "returns_by": "own-conductor", "return_length": "1 m", "length": "1 m"}


def cables(**named: tuple[str, str, str, str]) -> dict[str, Any]:
    """Cables by name: from, to, length there and length back."""
    return {
        f"{CABLES}.{name}": WIRE | {"start": start, "end": end, "length": there, "return_length": back}
        for name, (start, end, there, back) in named.items()
    }


FIRST = {f"{CABLES}.ecm.start": "middle"} | cables(first=("battery-positive", "middle", "1 m", "1 m"))


@pytest.mark.parametrize(
    ("others", "milliohms"),
    [
        # 4 mm² have 4.95 mΩ/m, and each conductor 0.06 mΩ of lugs: 1 m and 2 m there, 2 m back by the last one's way
        ({}, 5 * 4.95 + 3 * 0.06),
        # three cables from the other battery, however short, are further than two from this one
        (
            cables(
                a=("auxiliary-positive", "one", "0.1 m", "0.1 m"),
                b=("one", "two", "0.1 m", "0.1 m"),
                c=("two", "ecm-main", "0.1 m", "0.1 m"),
            ),
            5 * 4.95 + 3 * 0.06,
        ),
        # and one is nearer: 5 m there and 3 m back
        (cables(a=("auxiliary-positive", "ecm-main", "5 m", "3 m")), 8 * 4.95 + 2 * 0.06),
    ],
)
def test_the_nearest_of_two_batteries_feeds(others: dict[str, Any], milliohms: float) -> None:
    # 15 A of the main feed
    assert value("controls.feed-drop", FIRST | others, part="engine.ecm.feeds.main") == pytest.approx(
        15 * milliohms / 1000
    )


@pytest.mark.parametrize(
    ("others", "says"),
    [
        ({}, "comes from battery-positive."),
        (cables(a=("auxiliary-positive", "ecm-main", "1 m", "1 m")), "comes from auxiliary-positive."),
        (cables(a=("ecm-main", "auxiliary-positive", "1 m", "1 m")), "comes from auxiliary-positive."),
        (
            cables(a=("auxiliary-positive", "ecm-main", "1 m", "1 m"))
            | {f"{CABLES}.a.switched_by": ["key-run"], f"{CABLES}.first.fitted": False},
            "comes from auxiliary-positive through a relay closed by key-run. It must stay live whatever the key says",
        ),
    ],
)
def test_which_battery_feeds_is_said(others: dict[str, Any], says: str) -> None:
    found = of_part("controls.ecm-feed", "engine.ecm.feeds.main", FIRST | others, demand="constant")
    assert says in found.message


BARE = WIRE | {"size": "1 mm2", "diode": False}


@pytest.mark.parametrize(
    ("wires", "advice"),
    [
        # the current that feeds back runs against the wire: a diode along it stops that
        ({"lamp": ("key-run", "alternator-excitation")}, {f"{CABLES}.lamp.diode": True}),
        # drawn the other way round a diode along it would let it through, and so with one of two
        ({"lamp": ("alternator-excitation", "key-run")}, {}),
        ({"lamp": ("key-run", "alternator-excitation"), "other": ("alternator-excitation", "key-run")}, {}),
    ],
)
def test_a_diode_is_advised_in_a_wire_that_is_drawn_towards_the_alternator(
    wires: dict[str, tuple[str, str]], advice: dict[str, bool]
) -> None:
    edits = {f"{CABLES}.{name}": BARE | {"start": start, "end": end} for name, (start, end) in wires.items()}
    found = one("controls.key-off-stops", edits, demand="alternator")
    assert (found.kind, advised(found)) == ("fail", advice)
