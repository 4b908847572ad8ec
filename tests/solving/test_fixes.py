"""Fixes: each is applied to the file as the SARIF log says, and does what was announced, no more and no less."""

import io
import json
import re
import shutil
from contextlib import redirect_stdout
from pathlib import Path
from typing import Any

import pytest

from swaplint.cli import main
from swaplint.reports.sarif.findings import FINGERPRINT
from swaplint.reports.sarif.tool import digest

SPECS = Path("specs")
LEVELS = (None, "note", "warning", "error")


def outcome(*arguments: str) -> Any:
    out = io.StringIO()
    with redirect_stdout(out):
        status = main([*arguments])
    assert status in (0, 1)
    return json.loads(out.getvalue())


Key = tuple[str, str, str]
"""Rule, part and demand of a result."""


def key_of(result: dict[str, Any]) -> Key:
    return result["rule"], result["part"] or "", result["demand"] or ""


def fails(results: list[dict[str, Any]]) -> dict[Key, int]:
    """How grave each fail is."""
    return {key_of(r): LEVELS.index(r["level"]) for r in results if r["kind"] == "fail"}


def inspected(spec: Path) -> list[dict[str, Any]]:
    found = outcome("inspect", str(spec), "--no-remedies", "--format", "json")
    assert not found["problems"]
    results: list[dict[str, Any]] = found["specs"][0]["results"]
    return results


def apply(text: str, fix: Any) -> str:
    """A text with the replacements of a fix made, last first, by line and column in UTF-16 units as the log says."""
    lines = text.split("\n")
    (change,) = fix["artifactChanges"]
    made = sorted(
        change["replacements"], key=lambda r: (r["deletedRegion"]["startLine"], r["deletedRegion"]["startColumn"])
    )
    for replacement in reversed(made):
        region = replacement["deletedRegion"]
        assert region["startLine"] == region["endLine"]
        line = lines[region["startLine"] - 1]
        start, end = region["startColumn"] - 1, region["endColumn"] - 1
        lines[region["startLine"] - 1] = line[:start] + replacement["insertedContent"]["text"] + line[end:]
    return "\n".join(lines)


EDITS: dict[str, tuple[str, list[tuple[str, str]]]] = {
    "tender": ("tarnholt-tender.toml", []),
    "van": ("skerrivar-van.toml", []),
    "tender with its old axles": ("tarnholt-tender.toml", [("ratio = 4.88", "ratio = 6.17")]),
    "tender with thin starter cables and a narrow exhaust": (
        "tarnholt-tender.toml",
        [('size = "70 mm2"\nlength = "0.6 m"', 'size = "35 mm2"\nlength = "0.6 m"'),
         ('size = "70 mm2"\nlength = "1.8 m"', 'size = "50 mm2"\nlength = "1.8 m"'),
         ('tube_outer = "88.9 mm", tube_wall = "2 mm"', 'tube_outer = "76.2 mm", tube_wall = "2 mm"')],
    ),
}  # fmt: skip


@pytest.mark.parametrize(
    "name", [pytest.param(name, marks=[] if name == "tender" else [pytest.mark.thorough]) for name in EDITS]
)
def test_every_fix_does_what_it_announces(name: str, tmp_path: Path) -> None:
    file, edits = EDITS[name]
    text = (SPECS / file).read_text(encoding="utf-8")
    for old, new in edits:
        assert old in text
        text = text.replace(old, new)
    shutil.copytree(SPECS / "sheets", tmp_path / "sheets")
    spec = tmp_path / file
    spec.write_text(text, encoding="utf-8")
    before = fails(inspected(spec))
    announced = {
        (digest(*key_of(result)), remedy["field"]): (key_of(result), remedy)
        for result in outcome("inspect", str(spec), "--format", "json")["specs"][0]["results"]
        for remedy in result["remedies"]
    }
    log = outcome("inspect", str(spec), "--format", "sarif")
    tried = 0
    for result in log["runs"][0]["results"]:
        for fix in result.get("fixes", []):
            named = re.match(r"Change (\S+) from", fix["description"]["text"])
            assert named is not None
            key, remedy = announced[result["partialFingerprints"][FINGERPRINT], named.group(1)]
            spec.write_text(apply(text, fix), encoding="utf-8")
            after_results = inspected(spec)
            check_layout(text, spec.read_text(encoding="utf-8"), fix)
            check_outcome(key, remedy, before, after_results)
            tried += 1
    assert tried >= 3


def check_layout(before: str, after: str, fix: Any) -> None:
    """Only the lines that the fix names differ, and on these the comment stays."""
    touched = {r["deletedRegion"]["startLine"] for c in fix["artifactChanges"] for r in c["replacements"]}
    old, new = before.split("\n"), after.split("\n")
    assert len(old) == len(new)
    differing = {n for n, (one, other) in enumerate(zip(old, new, strict=True), 1) if one != other}
    assert differing == touched
    for number in differing:
        one, other = old[number - 1], new[number - 1]
        assert one.partition("=")[0] == other.partition("=")[0]
        assert one.partition("#")[2] == other.partition("#")[2]


def check_outcome(key: Key, remedy: dict[str, Any], before: dict[Key, int], results: list[dict[str, Any]]) -> None:
    label = f"{' '.join(key)}: {remedy['field']} to {remedy['to']}"
    judged = [r for r in results if key_of(r) == key]
    assert all(r["kind"] == "pass" for r in judged), (label, [(r["kind"], r["message"]) for r in judged])
    after = fails(results)
    # where the rule makes other demands of the part now, none of them fails that did not before
    assert not [other for other in after if other[:2] == key[:2] and other not in before], label
    worse = {other[0] for other, level in after.items() if level > before.get(other, 0)}
    assert worse == set(remedy["breaks"]), label
