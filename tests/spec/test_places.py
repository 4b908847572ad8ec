"""Where each field of the build spec is found: a few real places, so that a list of what is owed reads as a round."""

from collections import Counter

import pytest

from swaplint.spec import fields
from swaplint.spec.facts import FieldFacts
from swaplint.spec.model import Build
from swaplint.spec.shape import every_field

PLACES = {path: member.facts.where for path, member in every_field(Build) if isinstance(member.facts, FieldFacts)}
COUNTS = Counter(PLACES.values())


def test_every_field_has_a_place() -> None:
    assert len(PLACES) == sum(1 for _ in every_field(Build)) > 1000
    assert [path for path, where in PLACES.items() if not where.strip()] == []


def test_few_places_answer_most_fields() -> None:
    often = {where for where, count in COUNTS.items() if count > 3}
    assert len(often) <= 26, sorted(often)
    assert sum(COUNTS[where] for where in often) > 0.95 * len(PLACES)


def test_no_place_stands_for_more_than_a_third_of_all_fields() -> None:
    where, count = COUNTS.most_common(1)[0]
    assert count <= len(PLACES) / 3, where


@pytest.mark.parametrize("where", sorted(COUNTS))
def test_a_place_is_a_short_noun_phrase(where: str) -> None:
    """It reads after 'normally from' and, with a capital, at the head of a row."""
    assert len(where) <= 60
    assert where.split()[0] in ("a", "an", "the", "fuel")
    assert where[-1].isalnum()
    assert where == " ".join(where.split())


def test_a_place_of_many_fields_has_a_name() -> None:
    named = {value for name, value in vars(fields).items() if name.isupper() and isinstance(value, str)}
    assert {where for where, count in COUNTS.items() if count > 3} <= named
    assert named - {fields.NO_LIMIT, fields.NONE_TOO} <= set(COUNTS)


@pytest.mark.parametrize(
    ("path", "where"),
    [
        ("engine.speed.rated", fields.DATA_SHEET),
        ("driveline.gearbox.ratios", fields.TURNS_COUNTED),
        ("driveline.axles.*.ratio", fields.TURNS_COUNTED),
        ("driveline.tyres.designation", fields.TYRE),
        ("electrics.batteries.*.cca", fields.MARKING),
        ("electrics.cables.*.size", fields.DECISION),
        ("electrics.cables.*.length", fields.TAPE),
        ("vehicle.engine_place.z", fields.TAPE),
        ("vehicle.engine_place.pitch", fields.PROTRACTOR),
        ("vehicle.mass.gvwr", fields.PLATE),
        ("vehicle.mass.kerb_front", fields.WEIGHBRIDGE),
        ("plumbing.cooling.radiator.volume", fields.COMPONENT_SHEET),
        ("build.design.grade_max", fields.OWNER),
    ],
)
def test_where_a_builder_looks(path: str, where: str) -> None:
    assert PLACES[path] == where
