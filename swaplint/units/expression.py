"""The UNIT of a value: from what the trade writes to a factor and an offset, as the kind of field decides."""

from __future__ import annotations

import itertools
import re
from collections.abc import Iterable
from functools import lru_cache

from swaplint.units.kinds import KINDS, Kind
from swaplint.units.number import RefusedError
from swaplint.units.table import TABLE, Dimension

_SUPERSCRIPTS = str.maketrans("⁻¹²³⁴", "-1234")
_PRODUCT_SIGNS = "·*.-"
_UNIT_SIGNS = "°%‰\"'"
_MOST_PARTS = 5

# One spelling, several meanings: the kind of the field decides, by dimension, and never two fit.
_ALSO = {
    "lb": ("lbf",),
    "lbs": ("lbf",),
    "pound": ("lbf",),
    "pounds": ("lbf",),
    "oz": ("ozf",),
    "g": ("g_n",),
}

_ORIGINS = {"psia": "absolute", "bara": "absolute", "mbara": "absolute",
            "psig": "gauge", "barg": "gauge", "mbarg": "gauge", "psid": "difference"}  # fmt: skip
_ORIGIN_WORDS = {"(a)": "absolute", " abs": "absolute", " absolute": "absolute", " a": "absolute",
                 "(g)": "gauge", " gauge": "gauge", " g": "gauge", "(d)": "difference"}  # fmt: skip

_TWO_COUNTRIES = {
    "gal": "gal", "gals": "gal", "gallon": "gal", "gallons": "gal", "qt": "qt", "qts": "qt", "quart": "qt",
    "quarts": "qt", "pt": "pt", "pts": "pt", "pint": "pt", "pints": "pt", "gpm": "gpm", "gph": "gph", "fl": "fl oz",
    "floz": "fl oz",
}  # fmt: skip
"""Measures that are a fifth larger in one country than in the other."""

# Megametres and the like are units, but in a build they are a slip of the shift key.
_SLIPS = frozenset(["Mm", "Mg", "Ms", "ML", "Ml", "MA", "MV", "MN", "Mbar"])


Unit = tuple[float, float]
"""What a unit is worth, (factor, offset): SI value = value x factor + offset."""


@lru_cache(maxsize=1024)
def resolve(unit: str, kind: Kind) -> Unit:
    """Return what a unit is worth in a field of a kind; `unit` has passed `normalised`.

    >>> resolve("lb/in", KINDS["stiffness"])
    (175.12683524647636, 0.0)
    """
    unit = unit.translate(_SUPERSCRIPTS)
    hint = kind.asks.get(unit) or kind.hints.get(unit.lower())
    if hint:
        raise RefusedError(hint)
    if kind.levels:
        if unit.lower().replace(" ", "") not in kind.levels:
            raise RefusedError(f"is in {_short(unit)}, which does not measure {kind.words}")
        return 1.0, 0.0
    unit = kind.same_as.get(unit.lower(), unit)
    origin = ""
    if kind.origin:
        for words, stated in _ORIGIN_WORDS.items():
            if unit.lower().endswith(words) and len(unit) > len(words):
                unit, origin = unit[: -len(words)].rstrip(" "), stated
                break
    parts = _parts(unit)
    chosen, factor = _choose(unit, parts, kind)
    origins = {_ORIGINS[token] for token in chosen if token in _ORIGINS} | ({origin} if origin else set())
    if kind.origin and origins - {kind.origin}:
        stated = {"absolute": "an absolute pressure", "gauge": "a gauge pressure"}.get(
            (origins - {kind.origin}).pop(), "a pressure difference"
        )
        raise RefusedError(f"is {stated}")
    offset = _entry(chosen[0])[1] if len(parts) == 1 and parts[0][1] == 1 else 0.0
    return factor, offset


def _entry(token: str) -> tuple[float, float, Dimension]:
    known = TABLE.get(token) or _asked(token)
    assert known is not None, token
    return known


@lru_cache(maxsize=256)
def _asked(token: str) -> tuple[float, float, Dimension] | None:
    """Ask pint for a unit name in full, which is rare: that import costs more than a whole inspection."""
    if len(token) < 4 or not (token.isascii() and token.replace("_", "").isalpha() and token.islower()):
        return None
    from swaplint.units import registry

    found = registry.unit_in_full(token)
    return None if found is None else (found[0], found[1], _as_dimension(found[2]))


def _as_dimension(exponents: tuple[int, ...]) -> Dimension:
    kg, m, s, a, k, rad, bit = exponents
    return (kg, m, s, a, k, rad, bit)


# -- reading the text of a unit --


@lru_cache(maxsize=1)
def _phrases() -> list[tuple[str, str]]:
    words = [token for token in TABLE if " " in token or any(char.isdigit() for char in token)]
    return [(word.lower(), word) for word in sorted(words, key=len, reverse=True)]


def _is_unit_char(char: str) -> bool:
    return char.isalpha() or char in _UNIT_SIGNS or char == "_"


def _parts(unit: str) -> list[tuple[str, int]]:
    """Split a unit into its parts and their exponents; all that follows a slash is below the line.

    >>> _parts("W/(m2 K)") == _parts("W/m2K") == [("W", 1), ("m", -2), ("K", -1)]
    True
    """
    if unit.endswith(".") and not unit.endswith(".."):
        unit = unit[:-1].rstrip(" ")
    parts: list[tuple[str, int]] = []
    at, below, group, wanted = 0, False, False, True
    if unit.startswith(("1/", "1 /")):
        at, wanted = 1, False
    while at < len(unit):
        char = unit[at]
        if char == " ":
            at += 1
        elif char == "/" and not wanted and not group:
            below, wanted, at = True, True, at + 1
        elif char in _PRODUCT_SIGNS and not wanted:
            wanted, at = True, at + 1
        elif char == "(" and wanted and below and not group and ")" in unit[at:]:
            group, at = True, at + 1
        elif char == ")" and group and not wanted:
            group, at = False, at + 1
            if unit[at:].strip(" "):
                raise RefusedError(f"has something after the bracket of its unit ({_short(unit)})")
        else:
            word, at = _word(unit, at)
            if word == "per" and not wanted and not group:
                below, wanted = True, True
                continue
            exponent, at = _exponent(unit, at)
            parts.append((word, -exponent if below else exponent))
            wanted = False
    if wanted or group or not parts:
        raise RefusedError(f"has no complete unit ({_short(unit)})")
    if len(parts) > _MOST_PARTS:
        raise RefusedError("has a unit of too many parts")
    return parts


def _word(unit: str, at: int) -> tuple[str, int]:
    for lower, token in _phrases():
        end = at + len(token)
        if unit[at:end].lower() == lower and not (end < len(unit) and (unit[end].isalnum() or unit[end] == "_")):
            return token, end
    end = at
    while end < len(unit) and _is_unit_char(unit[end]):
        end += 1
    if end == at:
        if unit[at].isdigit() or unit[at] in "+^*":
            raise RefusedError(
                "holds a second number or a calculation, and only one number and one unit can be written"
            )
        raise RefusedError(f"has {_short(unit[at])} where a unit belongs")
    return unit[at:end], end


def _exponent(unit: str, at: int) -> tuple[int, int]:
    end = at
    while end < len(unit) and unit[end] in "^-0123456789":
        end += 1
    written = unit[at:end].removeprefix("^")
    if not written or written == "-" == unit[at:end]:
        return 1, at
    sign, digit = (-1, written[1:]) if written[0] == "-" else (1, written)
    if digit not in ("1", "2", "3", "4") or (sign == 1 and digit == "1"):
        raise RefusedError(f"has a second number that is no exponent ({_short(unit[:end])})")
    return sign * int(digit), end


# -- choosing what the parts mean --


def _combined(tokens: Iterable[str], exponents: Iterable[int]) -> tuple[float, Dimension]:
    factor, total = 1.0, [0] * 7
    for token, exponent in zip(tokens, exponents, strict=True):
        size, _, dimension = _entry(token)
        # Dividing by a whole power keeps L/h right to the last digit; a rounded reciprocal would not.
        factor = factor * size**exponent if exponent > 0 else factor / size**-exponent
        total = [have + exponent * more for have, more in zip(total, dimension, strict=True)]
    return factor, _as_dimension(tuple(total))


def _exactly(token: str) -> list[str]:
    return [known for known in (token, *_ALSO.get(token, ())) if known in TABLE]


@lru_cache(maxsize=1)
def _by_lower_case() -> dict[str, list[str]]:
    table: dict[str, list[str]] = {}
    for token in TABLE:
        table.setdefault(token.lower(), []).append(token)
    return table


def _in_any_case(token: str) -> list[str]:
    """Return the table's units that differ from a token only in capitals, one for each meaning."""
    meanings: dict[tuple[float, float, Dimension], str] = {}
    for spelling in _by_lower_case().get(token.lower(), []):
        for known in _exactly(spelling):
            meanings.setdefault(TABLE[known], known)
    return list(meanings.values())


def _choose(unit: str, parts: list[tuple[str, int]], kind: Kind) -> tuple[tuple[str, ...], float]:
    """Choose for each part the unit that makes the whole fit the kind, the written capitals first."""
    exponents = [exponent for _, exponent in parts]
    for spellings in (_exactly, _in_any_case):
        options = [spellings(token) for token, _ in parts]
        fitting: dict[float, tuple[str, ...]] = {}
        for tokens in itertools.product(*options):
            factor, dimension = _combined(tokens, exponents)
            if dimension == kind.dimension:
                if _is_refused(tokens, exponents, kind):
                    raise RefusedError(_another_kind(unit, tokens, exponents, kind))
                fitting.setdefault(factor, tokens)
        if len(fitting) > 1:
            names = " or ".join(sorted({"".join(tokens) for tokens in fitting.values()}, key=str.swapcase))
            raise RefusedError(f"is in {_short(unit)}, where capitals matter (write {names})")
        if fitting:
            ((factor, tokens),) = fitting.items()
            for token in tokens:
                if token in _SLIPS:
                    raise RefusedError(f"is in {_short(unit)}, which is mega and not milli (write m{token[1:]})")
            return tokens, factor
    named = [_named(token) for token, _ in parts]
    for (token, _), known in zip(parts, named, strict=True):
        if known is None:
            raise RefusedError(_unknown(token, kind, alone=len(parts) == 1))
    tokens = tuple(token for token in named if token is not None)
    factor, dimension = _combined(tokens, exponents)
    if dimension != kind.dimension or _is_refused(tokens, exponents, kind):
        raise RefusedError(_another_kind(unit, tokens, exponents, kind))
    return tokens, factor


def _another_kind(unit: str, tokens: tuple[str, ...], exponents: list[int], kind: Kind) -> str:
    _, dimension = _combined(tokens, exponents)
    for other in KINDS.values():
        if other.dimension == dimension and other is not kind and not _is_refused(tokens, exponents, other):
            return f"is {'a pressure' if other.origin else other.words}, not {kind.words}"
    return f"is in {_short(unit)}, which does not measure {kind.words}"


def _is_refused(tokens: Iterable[str], exponents: Iterable[int], kind: Kind) -> bool:
    return any(
        (token if exponent == 1 else f"{token}{exponent}") in kind.refused
        for token, exponent in zip(tokens, exponents, strict=True)
    )


def _named(token: str) -> str | None:
    """Return the unit that a token names, whatever the kind of the field; None if there is none."""
    known = [*_exactly(token), *_in_any_case(token)]
    if known:
        return known[0]
    return token if _asked(token) else None


def _unknown(token: str, kind: Kind, *, alone: bool) -> str:
    import difflib

    if token.lower() in _TWO_COUNTRIES:
        us, imperial = (f"{country} {_TWO_COUNTRIES[token.lower()]}" for country in ("US", "imp"))
        return f"is in {_short(token)}, which may be US or imperial (write {us} or {imperial})"
    if token.lower() in ("awg", "sae"):
        return "is a series of sizes" if kind.name == "conductor" else "is a conductor size"
    names = {
        known.lower(): known
        for known, (_, _, dimension) in TABLE.items()
        if (dimension == kind.dimension or not alone) and known not in kind.refused and known not in _SLIPS
    }
    near = difflib.get_close_matches(token.lower()[:40], names, n=1, cutoff=0.5)
    nearest = names[near[0]] if near else kind.units[0]
    return f"is in {_short(token)}, which is no unit known here (nearest: {nearest})"


def _short(text: str) -> str:
    return quoted(text, 24)


# -- text in and out of messages --

_SAME = str.maketrans({
    "\u00a0": " ", "\u202f": " ", "\u2009": " ", "−": "-", "⋅": "·", "•": "·", "∙": "·", "μ": "µ",
    "\u2126": "Ω", "′": "'", "″": '"', "º": "°", "–": "-", "‐": "-", "‑": "-", "℃": "°C", "℉": "°F", "\u212a": "K",
})  # fmt: skip
_FRACTIONS = {"½": "1/2", "¼": "1/4", "¾": "3/4", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8"}
"""Fractions of one sign, as a keyboard or a word processor makes them."""
_FRACTION = re.compile(rf"(?P<whole>[0-9] ?)?(?P<sign>[{''.join(_FRACTIONS)}])")


def _plain_fraction(found: re.Match[str]) -> str:
    whole = (found["whole"] or "").strip()
    return f"{whole} {_FRACTIONS[found['sign']]}" if whole else _FRACTIONS[found["sign"]]


def normalised(text: str) -> str:
    r"""Return a text with one character for each sign that has several, and single spaces.

    >>> normalised("45\u00a0 W/(m²\u22c5K)")
    '45 W/(m²·K)'
    """
    if not text.isascii() and _FRACTION.search(text):
        text = _FRACTION.sub(
            lambda m: f"{(m['whole'] or '').strip()}{' ' * bool(m['whole'])}{_FRACTIONS[m['sign']]}", text
        )
    return " ".join(word for word in text.translate(_SAME).split(" ") if word)


def quoted(text: str, longest: int = 40) -> str:
    """Return a text as a message quotes it: short, and without characters that act on a terminal."""
    shown = text if len(text) <= longest else text[: longest - 1] + "…"
    return '"' + "".join(char if char.isprintable() else f"\\u{ord(char):04x}" for char in shown) + '"'
