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

SPECS = Path("specs")
LEVELS = (None, "note", "warning", "error")


def outcome(*arguments: str) -> Any:
    out = io.StringIO()
    with redirect_stdout(out):
        status = main([*arguments])
    assert status in (0, 1)
    return json.loads(out.getvalue())


def fails(results: list[dict[str, Any]]) -> dict[tuple[str, str], int]:
    """The gravest fail of each rule on each subject."""
    out: dict[tuple[str, str], int] = {}
    for result in results:
        if result["kind"] == "fail":
            key = result["rule"], result["subject"]
            out[key] = max(out.get(key, 0), LEVELS.index(result["level"]))
    return out


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


@pytest.mark.parametrize("name", list(EDITS))
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
        (result["rule"], result["subject"], remedy["field"]): remedy
        for result in outcome("inspect", str(spec), "--format", "json")["specs"][0]["results"]
        for remedy in result["remedies"]
    }
    log = outcome("inspect", str(spec), "--format", "sarif")
    tried = 0
    for result in log["runs"][0]["results"]:
        subject = result["locations"][0]["logicalLocations"][0]["fullyQualifiedName"]
        for fix in result.get("fixes", []):
            named = re.match(r"Change (\S+) from", fix["description"]["text"])
            assert named is not None
            remedy = announced[result["ruleId"], subject, named.group(1)]
            spec.write_text(apply(text, fix), encoding="utf-8")
            after_results = inspected(spec)
            check_layout(text, spec.read_text(encoding="utf-8"), fix)
            check_outcome(result["ruleId"], subject, remedy, before, after_results)
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


def check_outcome(
    rule: str, subject: str, remedy: dict[str, Any], before: dict[tuple[str, str], int], results: list[dict[str, Any]]
) -> None:
    label = f"{rule} on {subject}: {remedy['field']} to {remedy['to']}"
    judged = [r for r in results if (r["rule"], r["subject"]) == (rule, subject)]
    # a rule of several demands that points elsewhere now is judged by what is left of its fails
    assert all(r["kind"] == "pass" for r in judged), (label, [(r["kind"], r["message"]) for r in judged])
    after = fails(results)
    worse = {key[0] for key, level in after.items() if level > before.get(key, 0)}
    assert worse == set(remedy["breaks"]), label
