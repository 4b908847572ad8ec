"""Standard numbers: parameter and group as printed in a public list of SAE J1939 parameters (spn, pgn)."""

from __future__ import annotations

import pytest

from swaplint.engineering.can_bus import split_identifier
from swaplint.engineering.j1939_numbers import (
    FREE_ADDRESSES,
    PARAMETERS,
    PREFERRED_ADDRESSES,
    free_address,
    parameter_name,
)

PUBLIC_LIST = [
    (70, 65265), (84, 65265), (91, 61443), (92, 61443), (94, 65263), (96, 65276), (97, 65279), (98, 65263),
    (100, 65263), (102, 65270), (105, 65270), (108, 65269), (110, 65262), (111, 65263), (158, 65271), (167, 65271),
    (168, 65271), (171, 65269), (174, 65262), (175, 65262), (177, 65272), (183, 65266), (190, 61444), (191, 61442),
    (247, 65253), (513, 61444), (523, 61445), (544, 65251),
]  # fmt: skip


@pytest.mark.parametrize(("number", "group"), PUBLIC_LIST)
def test_each_parameter_stands_in_the_group_of_the_public_list(number: int, group: int) -> None:
    assert PARAMETERS[number].group == group


def test_no_parameter_is_unchecked() -> None:
    assert sorted(PARAMETERS) == sorted(number for number, _ in PUBLIC_LIST)


def test_the_groups_are_broadcast_ones() -> None:
    # SAE J1939-21: from PDU format 240 a group is broadcast, so a passive gauge can hear it
    for parameter in PARAMETERS.values():
        assert split_identifier(6 << 26 | parameter.group << 8).destination is None


def test_a_free_address_is_nobodys() -> None:
    assert free_address(set()) == 128
    assert free_address({128, 129, 131}) == 130
    assert free_address(frozenset(FREE_ADDRESSES)) is None
    assert not set(PREFERRED_ADDRESSES) & set(FREE_ADDRESSES)


def test_names() -> None:
    assert parameter_name(110) == "coolant temperature (110)"
    assert parameter_name(1) == "parameter 1"
