"""The compliance pack: is it lawful where it will be driven, who must be asked, and is the work itself safe?

What a place asks is no rule's number: it stands in the place's sheet, with the document and how it is known. The sheets
in `places` were written from copies and extracts of what authorities publish; nothing in them is legal advice.
"""

from pathlib import Path

from swaplint.api import INTERFACE, Pack, hookimpl, listings_in, quantities_in, rules_in, steps_in


@hookimpl
def swaplint_pack() -> Pack:
    """Give the host this pack."""
    return Pack(
        "compliance",
        interface=INTERFACE,
        rules=rules_in(__name__),
        quantities=quantities_in(__name__),
        steps=steps_in(__name__),
        listings=listings_in(__name__),
        sheets=Path(__file__).parent / "places",
    )
