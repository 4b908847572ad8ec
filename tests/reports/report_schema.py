"""The JSON report of `inspect`, format 2, as a JSON Schema written from the contract; and what no schema can say.

The format only grows: keys beyond these may be there, none of these may be missing.
"""

from __future__ import annotations

from collections import Counter
from typing import Any

import jsonschema  # type: ignore[import-untyped]

from swaplint.spec.where import WHOM

Json = dict[str, Any]

LEVELS = ["error", "warning", "note"]


def holds(**properties: Any) -> Json:
    """An object in which each of these keys is there."""
    return {"type": "object", "required": list(properties), "properties": properties}


def may(schema: Json) -> Json:
    """What may be null."""
    return {"anyOf": [{"type": "null"}, schema]}


def several(schema: Json, **more: Any) -> Json:
    """A list of such things."""
    return {"type": "array", "items": schema, **more}


def if_then(condition: Json, then: Json) -> Json:
    """What must hold of an object some of whose keys hold this."""
    return {"if": {"properties": condition}, "then": {"properties": then}}


TEXT: Json = {"type": "string", "minLength": 1}
NUMBER: Json = {"type": "number"}
COUNT: Json = {"type": "integer", "minimum": 0}
PLACE: Json = {"type": "integer", "minimum": 1}
RULE: Json = {"type": "string", "pattern": r"^[a-z]+\.[a-z0-9-]+$"}
RULES = several(RULE, uniqueItems=True)
FIELDS = several(TEXT, uniqueItems=True)
VALUE: Json = {"type": ["number", "string", "boolean"]}
BY_LEVEL = holds(**dict.fromkeys(LEVELS, COUNT))
NOTHING: Json = {"type": "null"}
NONE: Json = {"maxItems": 0}

SOURCE = holds(
    kind={"enum": ["standard", "regulation", "handbook", "data-sheet", "common-practice"]},
    title=TEXT,
    clause=may(TEXT),
    known={"enum": ["published", "second-hand", "data-sheet", "common-practice", "from memory"]},
    gives={"enum": ["limit", "formula", "fallback", None]},
)
INPUT = holds(
    field=TEXT,
    value=VALUE,
    unit=may(TEXT),
    basis={"enum": ["assumed", "catalogue", "calculated", "measured", None]},
    tol=may({"type": "number", "exclusiveMinimum": 0}),
    file=TEXT,
    line=PLACE,
    column=PLACE,
)
LIMIT: Json = {
    **holds(relation={"enum": ["at most", "at least", "within"]}, value={}, unit=may(TEXT)),
    "if": {"properties": {"relation": {"const": "within"}}},
    "then": {"properties": {"value": several(NUMBER, minItems=2, maxItems=2)}},
    "else": {"properties": {"value": NUMBER}},
}
REMEDY = {
    **holds(field=TEXT, to=VALUE, unit=may(TEXT), breaks=RULES),
    "required": ["field", "from", "to", "unit", "breaks"],
}
SUPPRESSION = holds(
    kind={"enum": ["inSource", "external"]},
    justification=TEXT,
    by={"type": "string"},
    date=may(TEXT),
    expires={"type": "string"},
    up_to=may(TEXT),
    file=may(TEXT),
    line=may(PLACE),
)
RESULT: Json = {
    **holds(
        rule=RULE,
        demand=may({"type": "string", "pattern": r"^[a-z][a-z0-9-]*(\.[A-Za-z0-9_-]+)*$"}),
        part=may(TEXT),
        kind={"enum": ["fail", "pass", "open", "review", "notApplicable", "informational"]},
        level={"enum": [*LEVELS, None]},
        subject={"type": "string"},
        message=TEXT,
        consequence=TEXT,
        found=may(holds(value=NUMBER, unit=may(TEXT))),
        limit=may(LIMIT),
        margin=may(NUMBER),
        inputs=several(INPUT),
        more_inputs={"type": "integer", "minimum": 0},
        more_unknown={"type": "integer", "minimum": 0},
        whom={"type": "array", "items": {"enum": list(WHOM)}, "uniqueItems": True},
        unknown=FIELDS,
        due={"type": "boolean"},
        usually_passes={"type": "boolean"},
        deciding=FIELDS,
        more_deciding={"type": "integer", "minimum": 0},
        remedies=several(REMEDY),
        sources=several(SOURCE, minItems=1),
        cautions=several(TEXT),
        level_before_policy={"enum": [*LEVELS, None]},
        suppression=may(SUPPRESSION),
        not_accepted=may(TEXT),
    ),
    "allOf": [
        # A level is that of a fail, and every fail has one.
        if_then({"kind": {"const": "fail"}}, {"level": {"enum": LEVELS}}),
        if_then({"kind": {"not": {"const": "fail"}}}, {"level": NOTHING}),
        # Missing information is open, says what is missing, and comes to no number.
        if_then({"kind": {"const": "open"}}, {"unknown": {"minItems": 1}, "found": NOTHING}),
        if_then({"due": {"const": True}}, {"kind": {"const": "open"}}),
        if_then({"usually_passes": {"const": True}}, {"kind": {"const": "open"}, "unknown": {"maxItems": 2}}),
        # A limit and a margin are those of what was found.
        if_then({"found": NOTHING}, {"limit": NOTHING}),
        if_then({"limit": NOTHING}, {"margin": NOTHING}),
        if_then({"kind": {"enum": ["pass", "notApplicable", "informational"]}}, {"remedies": NONE, "deciding": NONE}),
    ],
}  # fmt: skip
GATE = holds(
    level={"enum": [*LEVELS, "never"]},
    open={"type": "boolean"},
    shut_by=RULES,
    packs_wanted=several(TEXT),
    deviations_wrong=COUNT,
)
SHA256: Json = {"type": "string", "pattern": "^[0-9a-f]{64}$"}
LEVEL: Json = {"enum": LEVELS}
POLICY = holds(
    name=TEXT,
    revision=TEXT,
    date=TEXT,
    file=TEXT,
    sha256=SHA256,
    gate_on_reviews={"type": "boolean"},
    raised=several(holds(rule=RULE, to=LEVEL)),
    lowered=several(holds(rule=RULE, to=LEVEL, reason=TEXT)),
)
COUNTS = holds(
    fail=BY_LEVEL,
    due=BY_LEVEL,
    **dict.fromkeys(["review", "open", "pass", "notApplicable", "informational", "suppressed"], COUNT),
)
SPEC = holds(
    spec=TEXT,
    stage={"enum": ["idea", "plan", "quote", "build", "commission"]},
    files=several(holds(file=TEXT, sha256=SHA256), minItems=1),
    on=may(TEXT),
    policy=may(POLICY),
    deviations=several(holds(file=TEXT, sha256=SHA256)),
    gate=GATE,
    selection=may(holds(systems=several(TEXT), rules=RULES)),
    counts=COUNTS,
    results=several(RESULT),
    ask_next=several(
        holds(
            field=TEXT,
            rules={**RULES, "minItems": 1},
            where={"type": "string"},
            whom=may({"enum": list(WHOM)}),
            whom_named=may(TEXT),
            typical=may(TEXT),
        )
    ),
    baseline=may(holds(new={}, solved={}, worse={}, better={}, unchanged={})),
)
TOOL = holds(name={"const": "swaplint"}, version=TEXT, packs=several(holds(name=TEXT, version=TEXT)))
PROBLEM = holds(
    what=TEXT, pack=may(TEXT), rule=may(TEXT), file=may(TEXT), line=may({"type": "integer"}), column=may(PLACE)
)
FORMAT: Json = {"const": 2}
REPORT = holds(format=FORMAT, tool=TOOL, specs=several(SPEC), problems=several(PROBLEM))
LAST_LINE = {**holds(format=FORMAT, tool=TOOL, problems=several(PROBLEM)), "additionalProperties": False}
"""The last line of a stream; each line before it is the object of a spec."""


def check(schema: Json, data: Any) -> None:
    """Raise `ValidationError` where data are not as a schema says."""
    jsonschema.Draft202012Validator(schema).validate(data)


def check_report(data: Json) -> None:
    """Check a report against the contract."""
    check(REPORT, data)
    for spec in data["specs"]:
        check_sums(spec)


def check_sums(spec: Json) -> None:
    """Check what a whole spec's object says twice, or what holds of its results together."""
    results = spec["results"]
    keys = [(result["rule"], result["part"], result["demand"]) for result in results]
    assert len(set(keys)) == len(keys)
    standing = [result for result in results if result["suppression"] is None]
    counts = spec["counts"]
    kinds = Counter(result["kind"] for result in standing)
    for kind in ("review", "open", "pass", "notApplicable", "informational"):
        assert counts[kind] == kinds[kind], kind
    for level in LEVELS:
        assert counts["fail"][level] == sum(r["level"] == level for r in standing)
        assert counts["due"][level] == sum(r["due"] and r["rule_level"] == level for r in standing)
    assert counts["suppressed"] == len(results) - len(standing)
    gate = spec["gate"]
    weighing = [] if gate["level"] == "never" else LEVELS[: LEVELS.index(gate["level"]) + 1]
    shut_by = {r["rule"] for r in standing if (r["rule_level"] if r["due"] else r["level"]) in weighing}
    if weighing and spec["policy"] is not None and spec["policy"]["gate_on_reviews"]:
        shut_by |= {r["rule"] for r in standing if r["kind"] == "review" and r["rule_level"] == "error"}
    assert set(gate["shut_by"]) == shut_by
    assert gate["open"] is not bool(
        shut_by or gate["not_run"] or gate["packs_missing"] or gate["packs_wanted"] or gate["deviations_wrong"]
    )
    files = {file["file"] for file in spec["files"]}
    assert {entry["file"] for result in results for entry in result["inputs"]} <= files
    asked = (r for r in results if r["kind"] == "open" and (r["due"] or not r["rule"].startswith("commissioning.")))
    lacking = {path for r in asked for path in r["unknown"]}  # what is measured at the end is asked for then
    assert lacking <= {ask["field"] for ask in spec["ask_next"]}
