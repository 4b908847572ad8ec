"""The example of a variant: a few lines on a base, and what they change."""

from __future__ import annotations

import tomllib
from pathlib import Path

from swaplint.kit.trial import rule_base
from swaplint.spec.differences import differences
from swaplint.spec.loading import load_spec

SPECS = Path(__file__).parents[2] / "specs"


def test_the_variant_states_what_is_other_and_nothing_else() -> None:
    text = (SPECS / "tarnholt-hills.toml").read_text("utf-8")
    assert len([line for line in text.splitlines() if "=" in line]) < 5
    assert tomllib.loads(text)["build"]["base"] == "tarnholt-tender.toml"
    model = rule_base().model
    one, other = (load_spec(str(SPECS / f"tarnholt-{name}.toml"), model=model) for name in ("tender", "hills"))
    assert differences(one.build, other.build) == {
        "build.base",
        "build.name",
        "driveline.axles.front.ratio",
        "driveline.axles.rear.ratio",
    }
