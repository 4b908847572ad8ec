"""A folder's files are told apart without parsing those that plainly are specs: never another answer."""

from __future__ import annotations

from pathlib import Path

import pytest
import tomli

from swaplint.spec.model import Build
from swaplint.spec.sheet_files import plainly_a_spec, what_it_is

SPECS = Path(__file__).parents[2] / "specs"


@pytest.mark.parametrize("path", sorted(SPECS.rglob("*.toml")), ids=lambda path: str(path.name))
def test_a_quick_look_says_what_a_parsed_file_says(path: Path) -> None:
    raw = path.read_bytes()
    if plainly_a_spec(raw):
        assert what_it_is(tomli.loads(raw.decode()), Build) == "spec"
    else:
        assert path.parent != SPECS, "a spec with its job at the head of a line is parsed for nothing"


@pytest.mark.parametrize(
    "text",
    [
        "",
        "# [build]\n",
        "[engine]\n",
        "[builds]\n",
        "x = '''\n[build]\n'''\n",
        'note = """\n[build]\n"""\n',
        "[build]\n[document]\n",
        '[build]\nnote = 1\n["document"]\n',
        "\ufeff[build]\n",
    ],
)
def test_what_is_not_plain_is_parsed(text: str) -> None:
    assert not plainly_a_spec(text.encode())
