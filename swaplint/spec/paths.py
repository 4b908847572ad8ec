"""Field paths: how a field of a build spec is named, in text and in keys.

`electrics.cables.starter.size` names a field; items of a list are counted from 1, as gears are:
`driveline.gearbox.ratios[5]`.
"""

from __future__ import annotations

import functools
import re

from swaplint.spec.toml_source import PathKey

_PART = re.compile(r"([^.\[\]]+)((?:\[\d+\])*)")
_CONDITION = re.compile(r"\*\[[a-z_]+=[^\]=]+\]")


def without_conditions(pattern: str) -> str:
    """A pattern in which every `*` stands for all parts, whatever it was limited to.

    >>> without_conditions("electrics.cables.*[role=starter].size")
    'electrics.cables.*.size'
    """
    return _CONDITION.sub("*", pattern) if "*[" in pattern else pattern


def path_text(path: PathKey) -> str:
    """The name of a field for people.

    >>> path_text(("driveline", "gearbox", "ratios", 4))
    'driveline.gearbox.ratios[5]'
    """
    out = ""
    for part in path:
        if isinstance(part, int):
            out += f"[{part + 1}]"
        else:
            out += f".{part}" if out else part
    return out


@functools.lru_cache(maxsize=8192)
def path_key(text: str) -> PathKey:
    """The keys of a field named in text. Raises `ValueError` where it is not a field path.

    >>> path_key("driveline.gearbox.ratios[5]")
    ('driveline', 'gearbox', 'ratios', 4)
    """
    if "[" not in text and "]" not in text:
        names = tuple(text.split("."))
        if all(names):
            return names
    keys: list[str | int] = []
    for piece in text.split("."):
        match = _PART.fullmatch(piece)
        if match is None:
            raise ValueError(f"'{text}' is not a field path; one looks like driveline.gearbox.ratios[5]")
        keys.append(match.group(1))
        for index in re.findall(r"\d+", match.group(2)):
            if int(index) < 1:
                raise ValueError(f"'{text}': items of a list are counted from 1")
            keys.append(int(index) - 1)
    return tuple(keys)
