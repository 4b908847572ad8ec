"""IP codes: what ISO 20653 and IEC 60529 say of them, from memory."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from swaplint.engineering import ImpossibleInput
from swaplint.engineering.ip_codes import Protection, keeps_out, read_code


@pytest.mark.parametrize(
    ("code", "dust", "water"),
    [("IP67", 6, 7), ("IP6K9K", 6, 9), ("ip5k4k", 5, 4), ("IP X7", 0, 7), ("IP5X", 5, 0), ("IP20C", 2, 0)],
)
def test_codes_are_read(code: str, dust: int, water: int) -> None:
    assert read_code(code) == Protection(dust, water)


@pytest.mark.parametrize("code", ["", "IP", "IP7", "IP77", "67", "IP6", "waterproof"])
def test_what_is_no_code_is_refused(code: str) -> None:
    with pytest.raises(ImpossibleInput):
        read_code(code)


# IEC 60529: a 7 or 8 does not mean that jets (5, 6) are kept out too, unless both codes are given; ISO 20653
# has the high-pressure jet 9K as a test of its own
@pytest.mark.parametrize(
    ("codes", "water", "enough"),
    [
        (["IP67"], 6, False),
        (["IP66"], 7, False),
        (["IP66", "IP67"], 7, True),
        (["IP68"], 7, True),
        (["IP67"], 8, False),
        (["IP6K9K"], 7, False),
        (["IP68"], 9, False),
        (["IP6K9K"], 9, True),
        (["IP65"], 4, True),
        (["IP54"], 5, False),
        (["IP67"], 5, False),
        (["IP67"], 4, True),
        (["IP6K9K"], 5, True),
        (["IP6K9K"], 6, True),
        (["IP6K9K"], 8, False),
        (["IP68"], 8, True),
        ([], 0, False),
    ],
)
def test_one_code_does_not_cover_another_test(codes: list[str], water: int, enough: bool) -> None:
    assert keeps_out(codes, dust=5, water=water) is enough


@given(st.integers(0, 6), st.integers(0, 6), st.integers(0, 6), st.integers(0, 6))
def test_up_to_jets_more_covers_less(dust: int, water: int, less_dust: int, less_water: int) -> None:
    enough = keeps_out([f"IP{dust}{water}"], dust=less_dust, water=less_water)
    assert enough == (dust >= less_dust and water >= less_water)


def test_impossible_demands_are_refused() -> None:
    assert keeps_out(["IP66", "IP6K9K"], dust=6, water=9)
    assert keeps_out(["IP00"], dust=0, water=0)
    for dust, water in ((7, 0), (-1, 0), (0, 10), (0, -1)):
        with pytest.raises(ImpossibleInput, match=f"^dust {dust} and water {water} are not numerals of an IP code$"):
            keeps_out(["IP67"], dust=dust, water=water)
