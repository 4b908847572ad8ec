"""Fields of the scope of supply: who supplies what."""

from __future__ import annotations

from swaplint.spec.fields import QUOTE, RECORD, Section, measure, text, word


class SupplyLine(Section):
    """One line of the scope of supply."""

    item: str = text("what is supplied", typical="clutch kit", where=QUOTE)
    by: str = word("who supplies it", "kit", "shop", "owner", "existing", "not-required", typical="shop", where=QUOTE)
    mass: float = measure("mass of it", "mass", "kg", typical=10, plausible=(0.01, 3000), where=QUOTE)
    ledger: str = text("name of the item of the mass ledger that counts it", typical="exhaust", where=RECORD)
    note: str = text("a remark for people; no rule reads it", typical="includes bolts", where=QUOTE)
