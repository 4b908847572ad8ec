"""A tree of data written as TOML in any of the ways in which TOML can hold it, for tests of edits."""

from __future__ import annotations

import datetime
import re
from collections.abc import Callable
from dataclasses import dataclass, field, replace
from typing import Any

from swaplint.spec.toml_source import PathKey

Choose = Callable[[int], int]
"""Gives a number from 0 up to, not including, the one named."""

Sections = list[list[str]]
"""The lines of some sections, one list of lines for each."""


@dataclass(frozen=True)
class Within:
    """What stands in a table and gets headers of its own."""

    keys: tuple[str, ...]
    path: PathKey
    value: Any
    bound: bool = False
    """Whether it lies in a table of dotted keys."""


@dataclass
class Writer:
    """Writes a tree as TOML; `choose` decides how, wherever there are several ways."""

    choose: Choose
    about: list[PathKey | None] = field(default_factory=list)
    """What each comment is about: it may go only with that. None: it is about nothing in the tree."""

    def text(self, tree: dict[str, Any]) -> str:
        (own, *bound), *sequences = self.sections(tree, (), (), "")
        lines, sequences = own, [bound, *sequences]
        in_order = self.choose(2)
        while sequences := [sequence for sequence in sequences if sequence]:
            lines += sequences[0 if in_order else self.choose(len(sequences))].pop(0)
        lines += ["", self.comment(None)] if self.choose(4) == 0 else []
        return "\n".join(lines) + ("\n" if lines and self.choose(4) else "")

    def sections(self, table: dict[str, Any], path: PathKey, names: tuple[str, ...], brackets: str) -> list[Sections]:
        """The sections of a table and of what is in it: each list keeps its order, but they may be mixed.

        The first list begins with the table's own section. Nothing in a list of tables may come before its item, nor a
        header within a table of dotted keys before these.
        """
        indent = " " * (0, 0, 2, 4)[self.choose(4)]
        within: list[Within] = []
        body = self.body(table, (), path, indent, within)
        needless = brackets == "[]" and not body and within and all(isinstance(one.value, dict) for one in within)
        own = body
        if brackets and not (needless and self.choose(2)):
            half = len(brackets) // 2
            header = f"{brackets[:half]}{self.dots(names)}{brackets[half:]}"
            own = [*self.above_header(), indent + header + self.behind(path), *body]
        bound: Sections = [own]
        free: list[Sections] = []
        for one in within:
            keys = (*names, *one.keys)
            if isinstance(one.value, dict):
                inner = self.sections(one.value, one.path, keys, "[]")
            else:
                items = [self.sections(item, (*one.path, i), keys, "[[]]") for i, item in enumerate(one.value)]
                inner = [[section for item in items for sequence in item for section in sequence]]
            if one.bound or any(isinstance(part, int) for part in path):
                bound += [section for sequence in inner for section in sequence]
            else:
                free += inner
        return [bound, *free]

    def body(
        self,
        table: dict[str, Any],
        dotted: tuple[str, ...],
        path: PathKey,
        indent: str,
        within: list[Within],
    ) -> list[str]:
        """The lines of a table's keys; what is to have headers of its own is added to `within`."""
        lines: list[str] = []
        for key, value in table.items():
            keys, here = (*dotted, key), (*path, key)
            if isinstance(value, dict):
                style = self.choose(4)
                if style == 1 and value:
                    found: list[Within] = []
                    inner = self.body(value, keys, here, indent, found)
                    within += [replace(one, bound=one.bound or bool(inner)) for one in found]
                    lines += inner
                    continue
                if style > 1:
                    within.append(Within(keys, here, value))
                    continue
            if isinstance(value, list) and value and all(isinstance(item, dict) for item in value) and self.choose(3):
                within.append(Within(keys, here, value))
                continue
            equals = (" = ", "=", "\t=  ")[self.choose(3)]
            lines += self.apart(path)
            lines += (indent + self.dots(keys) + equals + self.value(value, here) + self.behind(here)).split("\n")
        return lines

    def key(self, key: str) -> str:
        style = self.choose(4)
        if re.fullmatch("[A-Za-z0-9_-]+", key) and style:
            return key
        return f"'{key}'" if style > 1 and "'" not in key else basic(key)

    def dots(self, keys: tuple[str, ...]) -> str:
        return (".", " . ")[self.choose(5) == 0].join(map(self.key, keys))

    def comment(self, about: PathKey | None) -> str:
        self.about.append(about)
        return f"#c{len(self.about) - 1};" + ("", " [t]", " = '", ' """', " ]}")[self.choose(5)]

    def behind(self, about: PathKey) -> str:
        return (
            ("", "", " ", f"  {self.comment(about)}")[style] if (style := self.choose(4)) == 3 else " " * (style == 2)
        )

    def apart(self, about: PathKey | None) -> list[str]:
        """What may stand between two entries."""
        style = self.choose(7)
        if style < 4:
            return []
        if style == 4:
            return [""]
        return [self.comment(about)] if style == 5 else ["", "  " + self.comment(about), ""]

    def above_header(self) -> list[str]:
        style = self.choose(4)
        return [[], [""], ["", self.comment(None)] if style == 2 else [], ["", ""]][style]

    def value(self, value: Any, path: PathKey) -> str:
        if isinstance(value, str):
            return self.string(value)
        if isinstance(value, bool):
            return "true" if value else "false"
        if isinstance(value, int):
            return hex(value) if value >= 0 and self.choose(3) == 0 else f"{value:_}" if self.choose(2) else str(value)
        if isinstance(value, float):
            return repr(value)
        if isinstance(value, datetime.datetime):
            return value.isoformat(" " if self.choose(2) else "T")
        if isinstance(value, datetime.date | datetime.time):
            return value.isoformat()
        if isinstance(value, dict):
            space = " " * self.choose(2)
            return "{" + space + f"{space}, ".join(self.pairs(value, "", path)) + space + "}"
        return self.list(value, path)

    def pairs(self, table: dict[str, Any], before: str, path: PathKey) -> list[str]:
        found: list[str] = []
        for key, value in table.items():
            name, here = before + self.key(key), (*path, key)
            if isinstance(value, dict) and value and self.choose(3) == 0:
                found += self.pairs(value, f"{name}.", here)
            else:
                found.append(f"{name} = {self.value(value, here)}")
        return found

    def list(self, items: list[Any], path: PathKey) -> str:
        style = self.choose(4)
        if style < 2:
            space = " " * style
            end = "," if items and self.choose(3) == 0 else ""
            inner = ", ".join(self.value(item, (*path, index)) for index, item in enumerate(items))
            return f"[{space}{inner}{end}{space}]"
        if style == 2 and items:  # some to a line
            out = "["
            for index, item in enumerate(items):
                out += self.value(item, (*path, index))
                out += "," if index + 1 < len(items) else ""
                out += ("", " ", "\n   ", f" {self.comment((*path, index))}\n  ")[self.choose(4)]
            return f"{out}]"
        out = "[" + self.behind(path) + "\n"
        for index, item in enumerate(items):
            out += "".join(f"{line}\n" for line in self.apart(path))
            last = index + 1 == len(items)
            comma = "," if not last or self.choose(2) else ""
            comma = f" {self.comment((*path, index))}\n  ," if comma and self.choose(8) == 0 else comma
            out += f"    {self.value(item, (*path, index))}{comma}{self.behind((*path, index))}\n"
        return out + "".join(f"{line}\n" for line in self.apart(path)) + "  " * self.choose(2) + "]"

    def string(self, text: str) -> str:
        style = self.choose(4)
        plain = not re.search(r"[\x00-\x08\x0b-\x1f\x7f]", text)
        if style == 1 and plain and "'" not in text and "\n" not in text:
            return f"'{text}'"
        if style == 2 and plain and "'''" not in text and not text.endswith("'"):
            return f"'''\n{text}'''"
        if style == 3:
            lines = "\n".join(basic(line)[1:-1] for line in text.split("\n"))
            return f'"""\n{lines}"""' if self.choose(2) else f'"""\\\n   {basic(text)[1:-1]}"""'
        return basic(text)


def basic(text: str) -> str:
    """A string in double quotes; one that begins with spaces keeps them behind a line's end."""
    out = "".join(f"\\u{ord(c):04x}" if c < " " or c == "\x7f" else c for c in re.sub(r'(["\\])', r"\\\1", text))
    return f'"{out.replace(" ", chr(92) + "u0020", 1) if out.startswith(" ") else out}"'
