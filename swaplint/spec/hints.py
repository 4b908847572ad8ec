"""What somebody may have meant by a name that the build spec does not know: the fields whose paths and words it fits.

People write a field as they say it: `axle_ratio`, `cruiserpm`, `gvw_kg`. The words of such a name are looked for in
the paths of all fields and in what they mean.
"""

from __future__ import annotations

import functools
import re
from collections.abc import Iterable

from swaplint.spec.facts import nearest
from swaplint.spec.fields import Section
from swaplint.spec.shape import every_field, members
from swaplint.spec.toml_source import PathKey, TomlFile

MOST = 3
"""How many fields a hint names."""
MANY = 8
"""More fields than this, and a name tells them apart no longer."""

_SAID = {
    "rpm": ("speed",),
    "revs": ("speed",),
    "hp": ("power",),
    "kw": ("power",),
    "bhp": ("power",),
    "nm": ("torque",),
    "kg": ("mass",),
    "weight": ("mass",),
    "psi": ("pressure",),
    "kpa": ("pressure",),
    "bar": ("pressure",),
    "temp": ("temperature",),
    "dia": ("diameter", "bore"),
    "diameter": ("bore",),
    "id": ("bore",),
    "gear": ("gearbox",),
    "transmission": ("gearbox",),
    "vol": ("volume", "capacity"),
    "cap": ("capacity",),
    "volume": ("capacity",),
    "volts": ("voltage",),
    "volt": ("voltage",),
    "amps": ("current",),
    "amp": ("current",),
    "tire": ("tyre",),
    "coeff": ("coefficient",),
    "rear": ("axle",),
    "front": ("axle",),
    "max": ("highest",),
    "min": ("lowest",),
}
"""Other words and units that people say for the words of the paths."""
_EVERYWHERE = {"the", "a", "an", "of", "at", "in", "to", "and", "or", "for", "that", "is", "it", "its", "by", "with"}


def fields_meant(model: type[Section], name: str, table: str = "") -> list[str]:
    """The fields that fit a name best, nearest first, with `NAME` for a part's own name; none unless really near.

    Of two that fit alike, the one in the table where the name was written comes first.

    >>> from swaplint.spec.model import Build
    >>> fields_meant(Build, "axle_ratio")[0], fields_meant(Build, "colour_of_the_seats")
    ('driveline.axles.NAME.ratio', [])
    """
    known = _known(model)
    wanted = _words_of(name, known.vocabulary)
    if not wanted:
        return []
    scored = []
    for path, words, meaning in known.fields:
        score = _score(wanted, words, meaning)
        if score > 0.0:
            pieces = [piece for piece in re.split(r"[.*\[\]]+", path) if piece]
            inside = bool(table) and path.startswith(f"{table}.")
            # of fields that fit alike the one that is called with the fewest words is no special case of the other
            scored.append((-score, not inside, len(pieces), sum(map(len, words)), path))
    scored.sort()
    near = [(outside, path) for score, outside, *_, path in scored if score <= 0.8 * scored[0][0]]
    if len(near) > MANY:  # a name that fits so many says little: only where it was written can it mean one of them
        near = [(outside, path) for outside, path in near if not outside]
    return [path.replace("*", "NAME").replace("[]", "") for _, path in near[:MOST]]


class _Known:
    """The words of every field of a model."""

    def __init__(self, model: type[Section]) -> None:
        self.fields: list[tuple[str, list[frozenset[str]], frozenset[str]]] = []
        """Path; the words of each piece of it, the last piece first; the words of what it means."""
        self.vocabulary: set[str] = set(_SAID)
        for path, member in every_field(model):
            pieces = [frozenset(map(_stem, re.findall(r"[a-z0-9]+", piece))) for piece in path.split(".")]
            meaning = frozenset(map(_stem, re.findall(r"[a-z]+", member.description.lower()))) - _EVERYWHERE
            words = [piece for piece in reversed(pieces) if piece]
            self.fields.append((path, words, meaning))
            self.vocabulary.update(*pieces)


@functools.lru_cache(maxsize=8)
def _known(model: type[Section]) -> _Known:
    return _Known(model)


def _stem(word: str) -> str:
    """A word without its plural.

    >>> _stem("axles"), _stem("batteries"), _stem("glass")
    ('axle', 'battery', 'glass')
    """
    if len(word) > 4 and word.endswith("ies"):
        return word[:-3] + "y"
    return word[:-1] if len(word) > 3 and word.endswith("s") and not word.endswith("ss") else word


def _words_of(name: str, vocabulary: set[str]) -> list[str]:
    """The words of a name, parted where it is written as one; each one that is known, or near to one that is."""
    spread = re.sub(r"(?<=[a-z0-9])(?=[A-Z])", "_", name[:80])
    words: list[str] = []
    for piece in re.findall(r"[a-z0-9]+", spread.lower()):
        stem = _stem(piece)
        if stem in vocabulary or piece in _EVERYWHERE:
            words += [] if piece in _EVERYWHERE else [stem]
            continue
        parted = _parted(piece, vocabulary)
        near = nearest(stem, {word for word in vocabulary if abs(len(word) - len(stem)) <= 2}) if not parted else None
        words += [_stem(word) for word in parted] if parted else [near] if near and len(stem) > 3 else [stem]
    return list(dict.fromkeys(words))


def _parted(piece: str, vocabulary: set[str]) -> list[str]:
    """A word that two known ones make: `cruiserpm` is `cruise` and `rpm`."""
    for cut in range(len(piece) - 2, 2, -1):
        head, tail = piece[:cut], piece[cut:]
        if _stem(head) in vocabulary and (_stem(tail) in vocabulary or tail in _SAID):
            return [head, tail]
    return []


def _score(wanted: list[str], words: list[frozenset[str]], meaning: frozenset[str]) -> float:
    """How well the words of a name fit a field; 0 where one of them does not."""
    score = 0.0
    for word in wanted:
        best = 0.0
        for depth, piece in enumerate(words):
            fits = 1.0 if word in piece else 0.8 if any(said in piece for said in _SAID.get(word, ())) else 0.0
            best = max(best, fits * (1.0 if depth == 0 else 0.9 if depth == 1 else 0.7))
        if not best and word in meaning:
            best = 0.5
        if not best:
            return 0.0
        score += best
    # What the field is called must itself be meant: `engine` alone is no name for each of its hundred fields.
    last = words[0]
    meant = any(word in last or any(said in last for said in _SAID.get(word, ())) for word in wanted)
    spare = len(last - set(wanted))
    if not meant or (len(wanted) == 1 and spare):
        return 0.0
    return score / len(wanted) - 0.1 * spare


def commented_header(model: type[Section], file: TomlFile, path: PathKey, line: int) -> tuple[int, str] | None:
    """The commented table header above a line that would make its key known: its line and how it is written.

    Somebody who takes the # from a field and leaves it before the header above has put the field into another table.
    """
    key = str(path[-1])
    lines = file.text.split("\n")
    for number in range(line - 1, 0, -1):
        text = lines[number - 1].strip()
        if re.match(r"\[", text):
            return None
        header = re.fullmatch(r"#+\s*\[{1,2}\s*([\w.\s\"'-]+?)\s*\]{1,2}\s*(?:#.*)?", text)
        if header is not None and _has(model, header.group(1), key):
            return number, text if len(text) <= 80 else text[:77] + "..."
    return None


def _has(model: type[Section], header: str, key: str) -> bool:
    """Whether the table of a header has a key."""
    shape: type[Section] | None = model
    named = False
    for piece in (piece.strip().strip("\"'") for piece in header.split(".")):
        if named:
            named = False
            continue
        member = members(shape).get(piece) if shape is not None else None
        if member is None:
            return False
        shape, named = member.model, member.role == "parts"
    return shape is not None and not named and key in members(shape)


_STATED = re.compile(r"\s*[\w.\-\"' ]+=\s*(.*?)\s*(?:#.*)?")
_YES = {"true": "true", "yes": "true", "false": "false", "no": "false"}


def value_meant(line: str) -> str:
    """What a line that is no TOML should say, where the slip is a common one of values; empty for any other.

    >>> value_meant("mass.gvwr = 2900 kg"), value_meant("ratio = 4,1  # of the final drive")
    ('; a value with its unit stands between quotes: "2900 kg"', '; write 4.1')
    """
    stated = _STATED.fullmatch(line.rstrip())
    value = stated.group(1) if stated else ""
    if not value or len(value) > 60 or not value.isprintable():
        return ""
    if value.lower() in _YES:
        return f"; write {_YES[value.lower()]}"
    if re.fullmatch(r"[-+]?\d+,\d+", value):
        return f"; write {value.replace(',', '.')}"
    if re.fullmatch(r"[-+]?\d[\d.,/ ]*[^\d\s.,/\"'\[\]{}=][^\"'\[\]{}=]*", value):
        return f'; a value with its unit stands between quotes: "{value}"'
    if re.fullmatch(r"[^\W\d_][\w /-]*", value):
        return f'; a word stands between quotes: "{value}"'
    if value[0] in "\"'" and value.count(value[0]) == 1:
        return "; the closing quote is missing"
    return ""


def did_you_mean(names: Iterable[str]) -> str:
    """The question that a hint ends with; empty without names.

    >>> did_you_mean(["a.b", "c.d"])
    "; did you mean 'a.b' or 'c.d'?"
    """
    listed = [f"'{name}'" for name in names]
    if not listed:
        return ""
    head = ", ".join(listed[:-1])
    return f"; did you mean {head} or {listed[-1]}?" if head else f"; did you mean {listed[0]}?"
