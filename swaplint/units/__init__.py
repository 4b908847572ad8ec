"""Dimensional values as the trade writes them: text in, SI floats out, and back.

    value     = NUMBER UNIT            a space between them is usual, not needed; at most 100 characters
    NUMBER    = [sign] 12 | 12.5 | .5 | 1.2e3 | 4,000 | 14 500 | 1,234.5 | 5/16 | 1 1/2 | 1-1/2 | 1½     digits 0 to 9
    fraction  = a smaller number over 2, 4, 8, 16, 32 or 64; any other stroke may part two values, and is asked about
    2.700     = three digits after a lone mark: read where one reading is plausible for the field, else asked about
    UNIT      = product [ "/" product | "/" "(" product ")" ]...   or "1/" product; "per" is a slash too
    product   = part [ (space | "·" | "*" | "-" | ".") part ]...   at most five parts in all
    part      = a unit of `table.py`, with an exponent 2 to 4 written m2, m^2 or m², or -1 to -4
    slash     = everything after the first slash is below the line: W/m2K is W/(m2 K)
    pressure  = may end in (g), gauge, (a) or abs, where it agrees with what the field holds
    AWG       = 4/0 to 1/0 and 1 to 36, in conductor sizes only; AWG 2 as well as 2 AWG
    SAE       = 4/0, 2/0, 1/0 and 2 to 18 by twos: US vehicle cable, in conductor sizes only
    gal, qt   = never alone: US gal or imp gal, and so for pt, fl oz, gpm and gph
    capitals  = as in the table; another case is accepted where only one unit of the field's kind can be meant
    the rest  = a unit's name in full, if pint knows it; nothing is evaluated or guessed from prefixes

A spelling with several meanings (`lb`: mass or force; `g`: gram or standard gravity) is settled by the
`Kind` of the field. `registry.py` holds the units in pint's words and writes `table.py`; pint is not
imported to read a value.
"""

from swaplint.units.kinds import KINDS, Kind
from swaplint.units.reading import (
    LARGEST,
    SMALLEST,
    UnitError,
    from_unit,
    read,
    read_tolerance,
    show,
    to_unit,
    unit_factor,
)

__all__ = [
    "KINDS",
    "LARGEST",
    "SMALLEST",
    "Kind",
    "UnitError",
    "from_unit",
    "read",
    "read_tolerance",
    "show",
    "to_unit",
    "unit_factor",
]
