"""Fields of the scope of supply: who supplies what."""

from __future__ import annotations

from swaplint.spec.fields import QUOTE, Section, text, word


class SupplyLine(Section):
    """One line of the scope of supply."""

    item: str = text("what is supplied", typical="clutch kit", where=QUOTE)
    by: str = word("who supplies it", "kit", "shop", "owner", "existing", "not-required", typical="shop", where=QUOTE)
    note: str = text("a remark for people; no rule reads it", typical="includes bolts", where=QUOTE)
