"""Edits of a TOML text that leave every other byte as it is: each shape of TOML, with the exact text expected.

What random edits of random texts must keep to is in `test_editing_any_text.py`.
"""

from __future__ import annotations

import datetime
import math
import time
import tomllib
from pathlib import Path
from typing import Any

import pytest

from swaplint.spec.editing import REMOVED, EditError, edit_bytes, edited, set_value
from swaplint.spec.editing.tables import Document
from swaplint.spec.toml_source import PathKey

SPECS = Path(__file__).parents[2] / "specs"

Case = tuple[str, PathKey, object, str]

PLAIN: dict[str, Case] = {
    "replaced": ("a = 1\nb = 2\n", ("a",), 5, "a = 5\nb = 2\n"),
    "comment stays": ("a = 1  # one\n", ("a",), "x", 'a = "x"  # one\n'),
    "odd spaces stay": ("  a   =\t1\t\n", ("a",), 2, "  a   =\t2\t\n"),
    "same value, other form": ("a = 0x10\n", ("a",), 16, "a = 0x10\n"),
    "below a header": ("[t]\na = 1\n[u]\na = 2\n", ("u", "a"), 3, "[t]\na = 1\n[u]\na = 3\n"),
    "added": ("[t]\na = 1\n\n[u]\n", ("t", "b"), 2, "[t]\na = 1\nb = 2\n\n[u]\n"),
    "added behind a comment": ("[t]\na = 1 # x\n", ("t", "b"), 2, "[t]\na = 1 # x\nb = 2\n"),
    "added before what is about the next": (
        "[t]\na = 1\n\n# about u\n[u]\n",
        ("t", "b"),
        2,
        "[t]\na = 1\nb = 2\n\n# about u\n[u]\n",
    ),
    "indented as its neighbour": ("[t]\n    a = 1\n", ("t", "b"), 2, "[t]\n    a = 1\n    b = 2\n"),
    "below a bare header": ("  [t] # of t\n\n[u]\n", ("t", "b"), 2, "  [t] # of t\n  b = 2\n\n[u]\n"),
    "header at the very end": ("[t]", ("t", "b"), 2, "[t]\nb = 2"),
    "behind a string of many lines": (
        '[t]\na = """\n[u]\nb = 1\n"""\n[v]\n',
        ("t", "b"),
        2,
        '[t]\na = """\n[u]\nb = 1\n"""\nb = 2\n[v]\n',
    ),
    "string of many lines replaced": ("a = '''\nx ''\n'''''\nb = 1\n", ("a",), "y", 'a = "y"\nb = 1\n'),
    "removed": ("a = 1\nb = 2 # two\nc = 3\n", ("b",), REMOVED, "a = 1\nc = 3\n"),
    "removed, comment above stays": ("a = 1\n# on b\nb = 2\n", ("b",), REMOVED, "a = 1\n# on b\n"),
    "last one removed without newline": ("a = 1\nb = 2", ("b",), REMOVED, "a = 1"),
    "last one removed after a blank line": ("a = 1  \n\n# b\n\nb = 2", ("b",), REMOVED, "a = 1  \n\n# b"),
    "only one removed": ("a = 1", ("a",), REMOVED, ""),
    "string of many lines removed": ('a = """\n[x]\n""" # a\nb = 1\n', ("a",), REMOVED, "b = 1\n"),
    "quoted keys": ('[t."a b"]\n"c.d" = 1\n', ("t", "a b", "c.d"), 2, '[t."a b"]\n"c.d" = 2\n'),
    "quoted key with escapes": ('"a\\u0062\\"" = 1\n\'\\u\' = 2\n', ('ab"',), 3, '"a\\u0062\\"" = 3\n\'\\u\' = 2\n'),
    "key that needs quotes": ("[t]\n", ("t", 'a "b"\n'), 1, '[t]\n"a \\"b\\"\\n" = 1\n'),
    "empty key": ("'' = 1\n", ("",), 2, "'' = 2\n"),
    "key spaced out": ("t . a = 1\n", ("t", "a"), 2, "t . a = 2\n"),
    "commented-out header is a comment": (
        "[t]\na = 1\n# [u]\n# b = 1\n\n[v]\n",
        ("t", "b"),
        2,
        "[t]\na = 1\nb = 2\n# [u]\n# b = 1\n\n[v]\n",
    ),
}

ROOT: dict[str, Case] = {
    "behind the last key": ("a = 1\n\n[t]\n", ("b",), 2, "a = 1\nb = 2\n\n[t]\n"),
    "before the first header": ("# file\n\n# about t\n[t]\n", ("b",), 2, "# file\n\nb = 2\n\n# about t\n[t]\n"),
    "no comments": ("[t]\n", ("b",), 2, "b = 2\n\n[t]\n"),
    "empty": ("", ("b",), 2, "b = 2\n"),
    "blank lines": ("\n\n", ("b",), 2, "b = 2\n\n"),
    "comments alone": ("# one\n\n# two", ("b",), 2, "# one\n\n# two\nb = 2"),
    "no newline at the end": ("a = 1 # x", ("b",), 2, "a = 1 # x\nb = 2"),
}

DOTTED: dict[str, Case] = {
    "replaced": ("t.a.b = 1\n", ("t", "a", "b"), 2, "t.a.b = 2\n"),
    "added": ("t.a.b = 1\nz = 0\n", ("t", "a", "c"), 2, "t.a.b = 1\nt.a.c = 2\nz = 0\n"),
    "added above": ("t.a.b = 1\nz = 0\n", ("t", "c"), 2, "t.a.b = 1\nt.c = 2\nz = 0\n"),
    "added below": ("t.a.b = 1\nz = 0\n", ("t", "a", "c", "d"), 2, "t.a.b = 1\nt.a.c.d = 2\nz = 0\n"),
    "below a header": ("[x]\nt.a = 1\n[y]\n", ("x", "t", "b"), 2, "[x]\nt.a = 1\nt.b = 2\n[y]\n"),
    "quoted": ('"a b".c = 1\n', ("a b", "d e"), 2, '"a b".c = 1\n"a b"."d e" = 2\n'),
    "a table made of both": (
        "[x]\nt.a = 1\n\n[x.t.u]\nb = 1\n",
        ("x", "t", "c"),
        2,
        "[x]\nt.a = 1\nt.c = 2\n\n[x.t.u]\nb = 1\n",
    ),
    "key beside a table made of both": (
        "[x]\nt.a = 1\n\n[x.t.u]\nb = 1\n",
        ("x", "t", "u", "c"),
        2,
        "[x]\nt.a = 1\n\n[x.t.u]\nb = 1\nc = 2\n",
    ),
    "removed": ("t.a = 1\nt.b = 2\n", ("t", "a"), REMOVED, "t.b = 2\n"),
    "last one removed": ("t.u.a = 1 # x\nz = 0\n", ("t", "u", "a"), REMOVED, "t.u = {} # x\nz = 0\n"),
    "whole table removed": ("t.a = 1\nz = 0\nt.b.c = 2\n", ("t",), REMOVED, "z = 0\n"),
    "whole table removed without newline": ("z = 0\n\nt.a = 1\n\nt.b = 2", ("t",), REMOVED, "z = 0"),
    "whole table removed within one": ("[x]\nt.u.a = 1\nt.u.b = 2\n", ("x", "t", "u"), REMOVED, "[x]\nt = {}\n"),
    "both forms removed": ("[x]\nt.a = 1\nz = 0\n\n[x.t.u]\nb = 1\n", ("x", "t"), REMOVED, "[x]\nz = 0\n"),
    "table becomes a value": ("t.a = 1\nz = 0\nt.b = 2\n", ("t",), "none", 't = "none"\nz = 0\n'),
    "table becomes another": ("t.a = 1\nt.b = 2\n", ("t",), {"b": 2, "c": 3}, "t.b = 2\nt.c = 3\n"),
    "table becomes empty": ("t.a = 1\nt.b = 2\n", ("t",), {}, "t = {}\n"),
}

INLINE: dict[str, Case] = {
    "replaced": ("t = { a = 1, b = 2 } # t\n", ("t", "a"), 5, "t = { a = 5, b = 2 } # t\n"),
    "added": ("t = {a=1}\n", ("t", "b"), 2, "t = {a=1, b = 2}\n"),
    "added to an empty one": ("t = {}\n", ("t", "b"), 2, "t = { b = 2 }\n"),
    "added to a spacious one": ("t = {   }\n", ("t", "b"), 2, "t = { b = 2 }\n"),
    "added deeper": ("t = { a = 1 }\n", ("t", "b", "c"), 2, "t = { a = 1, b = { c = 2 } }\n"),
    "nested": ("t = { u = { a = 1 }, b = 2 }\n", ("t", "u", "c"), 3, "t = { u = { a = 1, c = 3 }, b = 2 }\n"),
    "dotted within": ("t = { u.a = 1, b = 2 }\n", ("t", "u", "c"), 3, "t = { u.a = 1, u.c = 3, b = 2 }\n"),
    "first removed": ("t = { a = 1, b = 2, c = 3 }\n", ("t", "a"), REMOVED, "t = { b = 2, c = 3 }\n"),
    "middle removed": ("t = { a = 1, b = 2, c = 3 }\n", ("t", "b"), REMOVED, "t = { a = 1, c = 3 }\n"),
    "last removed": ("t = { a = 1, b = 2, c = 3 }\n", ("t", "c"), REMOVED, "t = { a = 1, b = 2 }\n"),
    "only one removed": ("t = { a = 1 }\n", ("t", "a"), REMOVED, "t = {}\n"),
    "dotted ones removed": ("t = { u.a = 1, b = 2, u.c = 3 }\n", ("t", "u"), REMOVED, "t = { b = 2 }\n"),
    "last dotted one removed": ("t = { b = 2, u.a = 1 }\n", ("t", "u", "a"), REMOVED, "t = { b = 2, u = {} }\n"),
    "dotted ones become a value": ("t = { u.a = 1, b = 2, u.c = 3 }\n", ("t", "u"), 4, "t = { u = 4, b = 2 }\n"),
    "becomes another": (
        "t = { value = '5 mm', tol = '1 mm' }\n",
        ("t",),
        {"value": "6 mm", "basis": "measured"},
        "t = { value = '6 mm', basis = \"measured\" }\n",
    ),
    "becomes a value": ("t = { a = 1 }\n", ("t",), True, "t = true\n"),
    "takes the place of a value": ("t = 1 # x\n", ("t",), {"a": {"b": [1]}}, "t = { a = { b = [1] } } # x\n"),
    "list within, over lines": (
        "t = { a = [\n  1, # one\n], b = 2 }\n",
        ("t", "a", 1),
        2,
        "t = { a = [\n  1, # one\n  2,\n], b = 2 }\n",
    ),
    "removed whole": ("a = 1\nt = { b = [\n1] } # t\nc = 2\n", ("t",), REMOVED, "a = 1\nc = 2\n"),
}

LINES = "a = [ # all\n  1, # one\n  # on two\n  2, # two\n  3 # three\n]\n"
LISTS: dict[str, Case] = {
    "item replaced": ("a = [1, 2, 3]\n", ("a", 1), "x", 'a = [1, "x", 3]\n'),
    "appended": ("a = [1, 2]\n", ("a", 2), 3, "a = [1, 2, 3]\n"),
    "appended behind a comma": ("a = [1, 2, ]\n", ("a", 2), 3, "a = [1, 2, 3, ]\n"),
    "appended to an empty one": ("a = []\n", ("a", 0), 3, "a = [3]\n"),
    "appended to a spacious one": ("a = [ ]\n", ("a", 0), 3, "a = [ 3 ]\n"),
    "appended to an empty one over lines": (
        "  a = [ # none, yet\n  ]\n",
        ("a", 0),
        3,
        "  a = [ # none, yet\n      3,\n  ]\n",
    ),
    "first removed": ("a = [1, 2, 3]\n", ("a", 0), REMOVED, "a = [2, 3]\n"),
    "middle removed": ("a = [ 1, 2, 3 ]\n", ("a", 1), REMOVED, "a = [ 1, 3 ]\n"),
    "last removed": ("a = [ 1, 2, 3 ]\n", ("a", 2), REMOVED, "a = [ 1, 2 ]\n"),
    "last removed before a comma": ("a = [1, 2,]\n", ("a", 1), REMOVED, "a = [1,]\n"),
    "only one removed": ("a = [ 1, ]\n", ("a", 0), REMOVED, "a = []\n"),
    "over lines: replaced": (LINES, ("a", 1), 9, LINES.replace("2, #", "9, #")),
    "over lines: appended": (LINES, ("a", 3), 4, LINES.replace("3 # three\n", "3, # three\n  4\n")),
    "over lines: first removed": (LINES, ("a", 0), REMOVED, LINES.replace("  1, # one\n", "")),
    "over lines: middle removed": (LINES, ("a", 1), REMOVED, LINES.replace("  2, # two\n", "")),
    "over lines: last removed": (LINES, ("a", 2), REMOVED, "a = [ # all\n  1, # one\n  # on two\n  2 # two\n]\n"),
    "over lines, commas: appended": ("a = [\n  1, # x\n]\n", ("a", 1), 2, "a = [\n  1, # x\n  2,\n]\n"),
    "over lines, commas: last removed": ("a = [\n  1, # x\n  2,\n]\n", ("a", 1), REMOVED, "a = [\n  1, # x\n]\n"),
    "over lines: only one removed": ("a = [\n  1, # x\n]\n", ("a", 0), REMOVED, "a = [\n]\n"),
    "many on a line: appended": (
        "a = [\n  1, 2,\n  3, 4, # x\n]\n",
        ("a", 4),
        5,
        "a = [\n  1, 2,\n  3, 4, 5, # x\n]\n",
    ),
    "many on a line: last removed": ("a = [\n  1, 2, # x\n  3,\n]\n", ("a", 1), REMOVED, "a = [\n  1, # x\n  3,\n]\n"),
    "many on a line: first removed": ("a = [\n  1, 2, # x\n  3,\n]\n", ("a", 0), REMOVED, "a = [\n  2, # x\n  3,\n]\n"),
    "hanging: appended": ("a = [1,\n     2]\n", ("a", 2), 3, "a = [1,\n     2,\n     3]\n"),
    "hanging: last removed": ("a = [1,\n     2]\n", ("a", 1), REMOVED, "a = [1]\n"),
    "hanging: last removed after a comment": ("a = [1, # one\n  2]\n", ("a", 1), REMOVED, "a = [1 # one\n]\n"),
    "comma on a line of its own": ("a = [\n  1 # one\n  , 2\n]\n", ("a", 2), 3, "a = [\n  1 # one\n  , 2, 3\n]\n"),
    "a list in a list": ("a = [[1], [2, 3]]\n", ("a", 1, 0), 4, "a = [[1], [4, 3]]\n"),
    "a table in a list": ("a = [{ b = 1 }, {}]\n", ("a", 1, "b"), 4, "a = [{ b = 1 }, { b = 4 }]\n"),
    "a table appended": ("a = [\n  { b = 1 },\n]\n", ("a", 1, "b"), 4, "a = [\n  { b = 1 },\n  { b = 4 },\n]\n"),
    "becomes another: comments of what stays": (
        LINES,
        ("a",),
        [1, 7, 8, 3],
        "a = [ # all\n  1, # one\n  # on two\n  7, # two\n  8,\n  3 # three\n]\n",
    ),
    "becomes another: one in front": (
        "a = [\n  # on b\n  'b', # b\n]\n",
        ("a",),
        ["a", "b"],
        "a = [\n  \"a\",\n  # on b\n  'b', # b\n]\n",
    ),
    "becomes another: fewer": (LINES, ("a",), [3], "a = [ # all\n  # on two\n  3 # three\n]\n"),
    "becomes another: items as they are written": ("a = ['x', 0x1]\n", ("a",), ["x", 1, 2], "a = ['x', 0x1, 2]\n"),
    "becomes empty": ("a = [1, 2]\n", ("a",), [], "a = []\n"),
    "strings with brackets": ('a = [\'],#\', "[\\""] # ]\n', ("a", 2), 1, 'a = [\'],#\', "[\\"", 1] # ]\n'),
    "created": ("[t]\n", ("t", "a", 0), 1, "[t]\na = [1]\n"),
}

SUPPLY = """\
# about the first
[[supply]]
part = "hose"

[supply.size]
bore = "12 mm"

# about the second
[[supply]]
part = "pump"

[other]
a = 1
"""
TABLES_LISTED: dict[str, Case] = {
    "key set": (SUPPLY, ("supply", 1, "part"), "lift pump", SUPPLY.replace('"pump"', '"lift pump"')),
    "key added": (SUPPLY, ("supply", 0, "no"), 2, SUPPLY.replace('"hose"\n', '"hose"\nno = 2\n')),
    "key of a table in an item": (SUPPLY, ("supply", 0, "size", "l"), 2, SUPPLY.replace('12 mm"\n', '12 mm"\nl = 2\n')),
    "table added to the first": (
        SUPPLY,
        ("supply", 0, "end", "kind"),
        "barb",
        SUPPLY.replace('12 mm"\n', '12 mm"\n\n[supply.end]\nkind = "barb"\n'),
    ),
    "table added to the last": (
        SUPPLY,
        ("supply", 1, "end", "kind"),
        "barb",
        SUPPLY.replace('"pump"\n', '"pump"\n\n[supply.end]\nkind = "barb"\n'),
    ),
    "appended": (
        SUPPLY,
        ("supply", 2),
        {"part": "clip", "size": {"bore": "9 mm"}},
        SUPPLY.replace('"pump"\n', '"pump"\n\n[[supply]]\npart = "clip"\nsize = { bore = "9 mm" }\n'),
    ),
    "appended by its key": (
        SUPPLY,
        ("supply", 2, "part"),
        "clip",
        SUPPLY.replace('"pump"\n', '"pump"\n\n[[supply]]\npart = "clip"\n'),
    ),
    "first removed": (
        SUPPLY,
        ("supply", 0),
        REMOVED,
        SUPPLY.replace('[[supply]]\npart = "hose"\n\n[supply.size]\nbore = "12 mm"\n', ""),
    ),
    "last removed": (SUPPLY, ("supply", 1), REMOVED, SUPPLY.replace('[[supply]]\npart = "pump"\n', "")),
    "table of an item removed": (
        SUPPLY,
        ("supply", 0, "size"),
        REMOVED,
        SUPPLY.replace('[supply.size]\nbore = "12 mm"\n\n', ""),
    ),
    "only one removed": ("[[s]]\na = 1\n\n[t]\n", ("s", 0), REMOVED, "s = []\n\n[t]\n"),
    "all removed": (SUPPLY, ("supply",), REMOVED, "# about the first\n\n# about the second\n\n[other]\na = 1\n"),
    "at the end": ("[[s]]\na = 1", ("s", 1), {"a": 2}, "[[s]]\na = 1\n\n[[s]]\na = 2"),
    "appended to one that holds nothing": ("[[s]]\n[[s]] # x\n", ("s", 2), {}, "[[s]]\n[[s]] # x\n\n[[s]]\n"),
    "nested: appended to the first": (
        "[[s]]\n  [[s.p]]\n    a = 1\n[[s]]\n  [[s.p]]\n    a = 2\n",
        ("s", 0, "p", 1),
        {"a": 3},
        "[[s]]\n  [[s.p]]\n    a = 1\n\n  [[s.p]]\n    a = 3\n[[s]]\n  [[s.p]]\n    a = 2\n",
    ),
    "nested: key set": (
        "[[s]]\n[[s.p]]\na = 1\n[[s]]\n[[s.p]]\na = 2\n[[s.p]]\na = 2\n",
        ("s", 1, "p", 1, "a"),
        3,
        "[[s]]\n[[s.p]]\na = 1\n[[s]]\n[[s.p]]\na = 2\n[[s.p]]\na = 3\n",
    ),
    "nested: only one removed": (
        "[[s]]\nn = 1\n[[s.p]]\na = 1\n[[s]]\n",
        ("s", 0, "p", 0),
        REMOVED,
        "[[s]]\nn = 1\np = []\n[[s]]\n",
    ),
    "below a table without header": (
        "[[x.s]]\na = 1\n\n[[x.s]]\na = 2\n",
        ("x", "s", 0, "a"),
        5,
        "[[x.s]]\na = 5\n\n[[x.s]]\na = 2\n",
    ),
    "becomes another": (
        SUPPLY,
        ("supply",),
        [{"part": "hose"}, {"part": "fan"}],
        SUPPLY.replace('[supply.size]\nbore = "12 mm"\n\n', "").replace("pump", "fan"),
    ),
    "becomes one that lacks the first": (
        "# on 1\n[[s]]\na = 1 # 1\n\n# on 2\n[[s]]\na = 2 # 2\n",
        ("s",),
        [{"a": 2}],
        "# on 1\n\n# on 2\n[[s]]\na = 2 # 2\n",
    ),
    "becomes a longer one": (
        "[[s]]\na = 1\n\n[t]\n",
        ("s",),
        [{"a": 0}, {"a": 1}],
        "[[s]]\na = 0\n\n[[s]]\na = 1\n\n[t]\n",
    ),
    "becomes a list of values": ("[x]\n\n[[x.s]]\na = 1\n", ("x", "s"), [1], "[x]\ns = [1]\n"),
    "new": ("a = 1\n", ("s",), [{"b": 1}, {}], "a = 1\n\n[[s]]\nb = 1\n\n[[s]]\n"),
    "new by the key of its first": ("a = 1\n", ("s", 0, "b"), 1, "a = 1\n\n[[s]]\nb = 1\n"),
    "split by another table": (
        "[[s]]\n\n[t]\n\n[s.x]\na = 1\n\n[u]\n",
        ("s", 1),
        {"b": 1},
        "[[s]]\n\n[t]\n\n[s.x]\na = 1\n\n[[s]]\nb = 1\n\n[u]\n",
    ),
}

HEADERS: dict[str, Case] = {
    "new table behind its sisters": (
        "[x]\n[x.a]\nn = 1\n\n# on y\n[y]\n",
        ("x", "b", "n"),
        2,
        "[x]\n[x.a]\nn = 1\n\n[x.b]\nn = 2\n\n# on y\n[y]\n",
    ),
    "new table at the end": ("[x]\nn = 1 # x\n", ("y", "z", "n"), 2, "[x]\nn = 1 # x\n\n[y.z]\nn = 2\n"),
    "new table after blank lines": ("[x]\n\n\n", ("y", "n"), 2, "[x]\n\n[y]\nn = 2\n\n\n"),
    "new table in an empty file": ("", ("y", "n"), 2, "[y]\nn = 2\n"),
    "new table after comments at the end": ("[x]\n# [y]", ("y", "n"), 2, "[x]\n# [y]\n\n[y]\nn = 2"),
    "new table as a whole": ("a = 1\n", ("y",), {"n": 1, "m": {}}, "a = 1\n\n[y]\nn = 1\nm = {}\n"),
    "new table as a whole, deeper": ("[x]\n", ("x", "y"), {"n": 1}, "[x]\ny = { n = 1 }\n"),
    "new table as a whole, beside others": (
        "[x.a]\nn = 1\n\n[x.b]\nn = 2\n\n[y]\n",
        ("x", "c"),
        {"n": 3},
        "[x.a]\nn = 1\n\n[x.b]\nn = 2\n\n[x.c]\nn = 3\n\n[y]\n",
    ),
    "new list of tables beside tables": (
        "[x.a]\n\n[y]\n",
        ("x", "c", 0),
        {"n": 3},
        "[x.a]\n\n[[x.c]]\nn = 3\n\n[y]\n",
    ),
    "new table that is empty": ("a = 1\n", ("y",), {}, "a = 1\n\n[y]\n"),
    "new tables, quoted": ("", ("a b", "c.d", "n"), 2, '["a b"."c.d"]\nn = 2\n'),
    "indented as its sisters": (
        "[x]\n  [x.a]\n    n = 1\n",
        ("x", "b", "n"),
        2,
        "[x]\n  [x.a]\n    n = 1\n\n  [x.b]\n    n = 2\n",
    ),
    "key for a table without header": (
        "a = 1\n\n# on y\n[x.y]\nn = 1\n\n[x.z]\n",
        ("x", "m"),
        2,
        "a = 1\n\n[x]\nm = 2\n\n# on y\n[x.y]\nn = 1\n\n[x.z]\n",
    ),
    "key for a table without header, first in the file": ("[x.y]\n", ("x", "m"), 2, "[x]\nm = 2\n\n[x.y]\n"),
    "key for a table without header, no blank line": ("[w]\n[x.y]\n", ("x", "m"), 2, "[w]\n\n[x]\nm = 2\n\n[x.y]\n"),
    "out of order": (
        "[x.y]\nn = 1\n\n[z]\n\n[x]\nm = 1\n",
        ("x", "k"),
        2,
        "[x.y]\nn = 1\n\n[z]\n\n[x]\nm = 1\nk = 2\n",
    ),
    "table removed": ("[x]\na = 1\n\n[y]\n# in y\nb = 1\n\n[z]\n", ("y",), REMOVED, "[x]\na = 1\n\n[z]\n"),
    "table removed from the end": ("[x]\na = 1\n\n[y]\nb = 1\n", ("y",), REMOVED, "[x]\na = 1\n"),
    "table removed from the end, no newline": ("[x]\na = 1\n\n[y]\nb = 1", ("y",), REMOVED, "[x]\na = 1"),
    "table removed from the front": ("[x]\na = 1\n\n[y]\nb = 1\n", ("x",), REMOVED, "[y]\nb = 1\n"),
    "only table removed": ("[x]\na = 1\n", ("x",), REMOVED, ""),
    "comments around a removed table": (
        "[x]\n\n# on y\n[y]\nb = 1\n# b = 2\n\n# on z\n[z]\n",
        ("y",),
        REMOVED,
        "[x]\n\n# on y\n\n# on z\n[z]\n",
    ),
    "all headers of a table removed": (
        "[x]\n\n[y.a]\n[y]\nn = 1\n\n[z]\n\n[y.b]\n[[y.c]]\n[[y.c]]\n",
        ("y",),
        REMOVED,
        "[x]\n\n[z]\n",
    ),
    "last table of one without header removed": ("[w]\n\n[x.y]\nn = 1\n", ("x", "y"), REMOVED, "[w]\n\n[x]\n"),
    "table becomes a value": ("[x]\na = 1\n\n[x.y]\nn = 1\n", ("x", "y"), 5, "[x]\na = 1\ny = 5\n"),
    "table becomes another": (
        "[x]\na = 1 # a\nb = 2\n\n[x.y]\nn = 1\nm = 2\n",
        ("x",),
        {"a": 1, "y": {"n": 3, "m": 2}, "c": 4},
        "[x]\na = 1 # a\nc = 4\n\n[x.y]\nn = 3\nm = 2\n",
    ),
    "table becomes empty": ("[x]\na = 1\n\n[x.y]\n\n[z]\n", ("x",), {}, "[x]\n\n[z]\n"),
}

SHAPES = {
    "plain": PLAIN,
    "root": ROOT,
    "dotted": DOTTED,
    "inline": INLINE,
    "list": LISTS,
    "listed tables": TABLES_LISTED,
    "headers": HEADERS,
}
CASES = {f"{shape}: {name}": case for shape, cases in SHAPES.items() for name, case in cases.items()}


@pytest.mark.parametrize("name", CASES)
@pytest.mark.parametrize("newline", ["\n", "\r\n"], ids=["lf", "crlf"])
def test_edit(name: str, newline: str) -> None:
    before, path, value, after = CASES[name]
    tomllib.loads(after)  # else the expectation is wrong
    if "\n" in before:  # a text without any line end says nothing of which is wanted
        before, after = before.replace("\n", newline), after.replace("\n", newline)
    assert edited(before, {path: value}) == after
    assert edit_bytes(b"\xef\xbb\xbf" + before.encode(), {path: value}) == b"\xef\xbb\xbf" + after.encode()


STRINGS = {
    "plain": '"plain"',
    'say "so"': '"say \\"so\\""',
    "a\\b": '"a\\\\b"',
    "a\tb\nc\r": '"a\\tb\\nc\\r"',
    "\x00\x1b\x7f": '"\\u0000\\u001B\\u007F"',
    "5 µm · 20 °C": '"5 µm · 20 °C"',
    "": '""',
}


@pytest.mark.parametrize("value", STRINGS)
def test_string_is_written_with_the_escapes_that_it_needs(value: str) -> None:
    assert set_value("a = 1\n", ("a",), value) == f"a = {STRINGS[value]}\n"


@pytest.mark.parametrize(
    ("old", "new", "expected"),
    [
        ("'x'", "a\\b", "'a\\b'"),
        ("'x'", "it's", '"it\'s"'),
        ("'''x'''", "y", '"y"'),
        ("'x'", "a\nb", '"a\\nb"'),
    ],
)
def test_string_keeps_single_quotes_where_it_can(old: str, new: str, expected: str) -> None:
    assert set_value(f"a = {old}\n", ("a",), new) == f"a = {expected}\n"


ZONE = datetime.timezone(datetime.timedelta(hours=-3, minutes=-30))


@pytest.mark.parametrize(
    ("value", "expected"),
    [
        (True, "true"),
        (-3, "-3"),
        (0.1, "0.1"),
        (1e300, "1e+300"),
        (-0.0, "-0.0"),
        (3.0, "3.0"),
        (math.inf, "inf"),
        (-math.inf, "-inf"),
        (math.nan, "nan"),
        (datetime.date(2024, 2, 29), "2024-02-29"),
        (datetime.time(7, 5), "07:05:00"),
        (datetime.datetime(987, 1, 2, 3, 4, 5, 600000), "0987-01-02T03:04:05.600000"),
        (datetime.datetime(2024, 1, 2, 3, 4, 5, tzinfo=ZONE), "2024-01-02T03:04:05-03:30"),
        ([1, [2.5, "x"], {}], '[1, [2.5, "x"], {}]'),
    ],
)
def test_value_is_written_as_toml(value: object, expected: str) -> None:
    assert set_value("a = 'before'\n", ("a",), value) == f"a = {expected}\n"


@pytest.mark.parametrize(
    ("old", "new", "expected"),
    [
        ("1", True, "true"),
        ("true", 1, "1"),
        ("1", 1.0, "1.0"),
        ("1.0", 1, "1"),
        ("0.0", -0.0, "-0.0"),
        ("[{ a = 1 }]", [{"a": 1.0}], "[{ a = 1.0 }]"),
        (
            "2024-01-01T13:00:00+01:00",
            datetime.datetime(2024, 1, 1, 12, tzinfo=datetime.UTC),
            "2024-01-01T12:00:00+00:00",
        ),
    ],
)
def test_values_that_python_takes_for_equal_are_told_apart(old: str, new: object, expected: str) -> None:
    assert set_value(f"a = {old}", ("a",), new) == f"a = {expected}"


# -- many changes at once -------------------------------------------------------------------------------------------
def test_changes_speak_of_the_text_as_it_was() -> None:
    text = "a = [0, 1, 2, 3]\nb = 1\n\n[[s]]\n[[s]]\nn = 2\n"
    changes: dict[PathKey, object] = {
        ("a", 0): REMOVED,
        ("a", 2): REMOVED,
        ("a", 3): "three",
        ("b",): REMOVED,
        ("s", 0): REMOVED,
        ("s", 1, "n"): 3,
        ("t", "u"): {"v": 1},
        ("t", "w"): 2,
    }
    assert edited(text, changes) == 'a = [1, "three"]\n\n[[s]]\nn = 3\n\n[t]\nu = { v = 1 }\nw = 2\n'


def test_no_change_gives_the_same_text() -> None:
    text = "\ufeffa =   0x1 # x\r\n"
    assert edited(text, {}) == text
    assert set_value(text, ("a",), 1) == text


def test_the_line_end_is_that_of_the_first_line() -> None:
    assert set_value("a = 1\r\nb = 2\n", ("c",), 3) == "a = 1\r\nb = 2\r\nc = 3\n"


# -- what cannot be done --------------------------------------------------------------------------------------------
@pytest.mark.parametrize(
    ("text", "changes", "part"),
    [
        ("a = ", {("a",): 1}, "line 1, column 5: is not valid TOML"),
        ("a = 1\na = 2", {("a",): 1}, "not valid TOML"),
        ("\ufeff\ufeffa = 1", {("a",): 1}, "two byte-order marks"),
        ("a = 1", {(): 1}, "a whole file is not one value"),
        ("a = 1", {("a", "b"): 1}, "a is a single value, no table: 'b' cannot stand in it"),
        ("t.a = 1", {("t", "a", "b", "c"): 1}, "t.a is a single value, no table"),
        ("a = [1]", {("a", "b"): 1}, "a is a list, whose items have numbers"),
        ("a = 1", {("a", 0): 1}, "a is no list: it has no item 1"),
        ("[t]", {("t", 0): 1}, "t is no list"),
        ("a = [1]", {("a", 2): 1}, "a has 1 item: there is no item 3"),
        ("[[s]]\n[[s]]", {("s", 3, "n"): 1}, "s has 2 items: there is no item 4"),
        ("a = [1]", {("a", 1): REMOVED}, "a has 1 item: there is no item 2"),
        ("a = [1]", {("a", -1): 2}, "counted from its beginning"),
        ("", {("a", 1): 2}, "its first item comes before item 2"),
        ("a = 1", {("b",): REMOVED}, "there is no b to take away"),
        ("[t]", {("t", "u", "v"): REMOVED}, "there is no t.u.v to take away"),
        ("[[s]]", {("s", 1): 5}, "s is a list of tables: an item of it is a table"),
        ("[[s]]\n[[s]]", {("s", 0): 5}, "s is a list of tables: an item of it is a table"),
        ("a = 1", {("a",): None}, "NoneType is nothing that TOML can hold"),
        ("a = 1", {("a",): {"b": (1, 2)}}, "tuple is nothing that TOML can hold"),
        ("a = 1", {("a",): {1: 2}}, "the key 1 is no text"),
        ("a = 1", {("a",): 2**63}, "64 bits"),
        ("a = 1", {("a",): datetime.time(1, tzinfo=datetime.UTC)}, "no time zone"),
        ("a = 1", {("a",): "\ud800"}, "half a character"),
        ("t.a = 1", {("t",): REMOVED, ("t", "a"): 2}, "'t' is to be taken away"),
        ("a = [1]", {("a",): [2], ("a", 0): REMOVED}, "'a[1]' is to be taken away"),
    ],
)
def test_refusal(text: str, changes: dict[PathKey, object], part: str) -> None:
    with pytest.raises(EditError) as caught:
        edited(text, changes)
    assert part in str(caught.value)


def test_value_that_is_nested_too_deep_or_holds_itself_is_refused() -> None:
    endless: list[Any] = []
    endless.append(endless)
    with pytest.raises(EditError, match="nested more than"):
        set_value("", ("a",), endless)
    deep: Any = 1
    for _ in range(29):
        deep = [deep]
    with pytest.raises(EditError, match="nested more than"):
        set_value("", ("a", "b", "c"), deep)


def test_bytes_that_are_no_text_are_refused() -> None:
    with pytest.raises(EditError, match="not UTF-8"):
        edit_bytes(b"a = '\xff'", {("a",): 1})


@pytest.mark.parametrize("wrong", ["a = 1\nb = 5\n", "a = 2\n", "a = 2\nb = 1\nc = 1\n", "a = ", "a = 2.0\nb = 1\n"])
def test_a_wrong_text_is_never_given_out(monkeypatch: pytest.MonkeyPatch, wrong: str) -> None:
    """Whatever the edit makes of the text: what it then holds is compared with what was wanted."""
    monkeypatch.setattr(Document, "with_value", lambda self, path, value: wrong)
    with pytest.raises(EditError):
        set_value("a = 1\nb = 1\n", ("a",), 2)


# -- a whole spec ---------------------------------------------------------------------------------------------------
def test_an_edit_of_a_whole_spec_is_quick_and_touches_one_line() -> None:
    text = (SPECS / "tarnholt-tender.toml").read_bytes().decode()
    path = ("vehicle", "mass", "gvwr")
    best = math.inf
    for _ in range(5):
        started = time.process_time()
        new = set_value(text, path, "1234 kg")
        best = min(best, time.process_time() - started)
    lines = [(old, now) for old, now in zip(text.split("\n"), new.split("\n"), strict=True) if old != now]
    assert len(lines) == 1
    assert '"1234 kg"' in lines[0][1]
    assert best < 0.05  # 9 ms where this was written


def test_every_value_of_a_spec_can_be_set_and_set_back() -> None:
    text = (SPECS / "day-one-idea.toml").read_bytes().decode()
    for path, value in leaves(tomllib.loads(text)):
        changed = set_value(text, path, "something else")
        assert changed.count("\n") == text.count("\n"), path
        assert set_value(changed, path, value) == text, path


def leaves(value: Any, path: PathKey = ()) -> list[tuple[PathKey, Any]]:
    parts = value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list) else None
    if parts is None:
        return [(path, value)]
    return [leaf for key, child in parts for leaf in leaves(child, (*path, key))]
