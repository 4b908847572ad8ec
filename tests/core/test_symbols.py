"""Whether a symbol stands in a formula is told without a pattern of its own, and as the pattern tells it."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from swaplint.declare.quantities import _stands_in, symbols_in
from swaplint.host.packs import load_rule_base

PIECES = st.text(alphabet="aDβΔω_.-0 ·²₁(", max_size=12)


@given(symbol=st.text(alphabet="aDβω_.0²₁(", min_size=1, max_size=2), formula=PIECES)
def test_a_symbol_stands_where_its_pattern_finds_it(symbol: str, formula: str) -> None:
    assert _stands_in(symbol, formula) == (symbols_in([symbol]).search(formula) is not None)


def test_and_so_in_every_formula() -> None:
    for _, quantity in load_rule_base().quantities:
        for symbol in (*quantity.symbols, "a", "D", "m"):
            assert _stands_in(symbol, quantity.formula) == (symbols_in([symbol]).search(quantity.formula) is not None)
