"""The view that notices what a rule reads."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest
from tests_making import SOURCE

from swaplint.api import (
    Build,
    Part,
    Practice,
    Section,
    at,
    each_of,
    fields,
    given,
    is_fitted,
    name_of,
    or_practice,
    path_of,
    quantity,
    section_of,
    use_practice,
)
from swaplint.build.nodes import NotFitted, Unknown
from swaplint.build.reading import view_of
from swaplint.build.reads import Reads
from swaplint.build.view import View
from swaplint.spec.facts import Stated
from swaplint.spec.loading import load_text
from swaplint.units.value import Value

SPEC = """
[engine]
cylinders = 4
speed.idle = "750 r/min"
torque_curve = [{ speed = "1000 r/min", torque = "300 Nm" }, { speed = "2000 r/min" }]

[driveline.gearbox]
ratios = [4.0, 2.0]

[driveline.transfer]
fitted = false
high = 1.0

[driveline.axles.front]
fitted = false
[driveline.axles.rear]
ratio = 4.1
"""
FALLBACK = Practice("an invented fallback of 7", 7.0, SOURCE)


def view(toml: str = SPEC, changes: dict[str, Stated | None] | None = None, *, probing: bool = False) -> View:
    return View(load_text(toml).build, changes, probing=probing)


def reading(function: Callable[[Any], Any], seen: View | None = None) -> tuple[Any, Reads]:
    """What a function returns or raises, and what it read on the way."""
    seen = seen or view()
    reads = Reads()
    seen.stack.append(reads)
    try:
        return function(seen.build), reads
    except (Unknown, NotFitted) as end:
        return end, reads
    finally:
        seen.settle()


# -- what is recorded ----------------------------------------------------------------------------------------
def test_reads_are_recorded_once_and_in_order() -> None:
    def read(build: Any) -> None:
        _ = build.driveline.axles["rear"].ratio, build.engine.cylinders, build.engine.speed.idle
        _ = build.engine.cylinders, build.driveline.axles["rear"].ratio

    _, reads = reading(read)
    assert list(reads.fields) == [
        "driveline.axles",
        "driveline.axles.rear.ratio",
        "engine.cylinders",
        "engine.speed.idle",
    ]
    assert not reads.unknown


def test_values_are_si_floats_that_know_where_they_come_from() -> None:
    idle = view().build.engine.speed.idle
    assert idle == pytest.approx(78.5398163397)  # 750 r/min · 2π/60
    assert isinstance(idle, Value)
    assert (idle.path, idle.kind, idle.unit) == ("engine.speed.idle", "rotation", "r/min")
    assert not isinstance(idle * 2, Value)


def test_items_and_lists() -> None:
    (ratios, curve), reads = reading(lambda b: (b.driveline.gearbox.ratios, b.engine.torque_curve))
    assert ratios == (4.0, 2.0)
    assert path_of(ratios[1]) == "driveline.gearbox.ratios[2]"
    assert [path_of(point) for point in curve] == ["engine.torque_curve[1]", "engine.torque_curve[2]"]
    assert list(reads.fields)[:3] == [
        "driveline.gearbox.ratios",
        "driveline.gearbox.ratios[1]",
        "driveline.gearbox.ratios[2]",
    ]


def test_nothing_can_be_written() -> None:
    with pytest.raises(AttributeError):
        view().build.engine.cylinders = 3.0  # type: ignore[misc]
    with pytest.raises(TypeError):
        view().build.driveline.axles["new"] = view().build.driveline.axles["rear"]


def test_a_field_that_does_not_exist_is_the_authors_mistake() -> None:
    with pytest.raises(AttributeError, match="Engine has no field 'cylindres'"):
        _ = view().build.engine.cylindres  # type: ignore[attr-defined]


def test_reading_outside_a_rule_is_harmless() -> None:
    seen = view()
    assert seen.build.engine.cylinders == 4.0
    with pytest.raises(Unknown):
        _ = seen.build.engine.strokes
    assert not seen.stack


# -- unknown and not fitted ----------------------------------------------------------------------------------
@pytest.mark.parametrize(
    ("read", "path"),
    [
        (lambda b: b.engine.strokes, "engine.strokes"),
        (lambda b: b.engine.speed.rated, "engine.speed.rated"),
        (lambda b: b.engine.derate.altitude_free, "engine.derate.altitude_free"),
        (lambda b: b.vehicle.mass.gvwr, "vehicle.mass.gvwr"),
        (lambda b: b.engine.torque_curve[1].torque, "engine.torque_curve[2].torque"),
        (lambda b: b.supply, "supply"),
        (lambda b: is_fitted(b.driveline.converter), "driveline.converter"),
        (lambda b: b.driveline.axles["rear"].driven, "driveline.axles.rear.driven"),
    ],
)
def test_a_missing_field_ends_the_rule_with_its_name(read: Callable[[Any], Any], path: str) -> None:
    end, reads = reading(read)
    assert isinstance(end, Unknown)
    assert end.path == path
    assert list(reads.unknown) == [path]


@pytest.mark.parametrize(
    ("read", "path"),
    [
        (lambda b: b.driveline.transfer.high, "driveline.transfer"),
        (lambda b: b.driveline.transfer.low, "driveline.transfer"),
        (lambda b: b.driveline.axles["front"].ratio, "driveline.axles.front"),
    ],
)
def test_a_part_that_is_not_fitted_ends_the_rule(read: Callable[[Any], Any], path: str) -> None:
    end, reads = reading(read)
    assert isinstance(end, NotFitted)
    assert end.path == path
    assert list(reads.fields)[-1] == f"{path}.fitted"


@pytest.mark.parametrize(
    "read",
    [
        lambda b: b.engine.speed.idle,
        lambda b: b.engine.speed.rated,
        lambda b: b.engine.torque_curve,
        lambda b: b.engine.torque_curve[0].torque,
        lambda b: b.engine.derate.altitude_free,
    ],
)
def test_what_belongs_to_a_part_that_is_not_fitted_is_not_there_either(read: Callable[[Any], Any]) -> None:
    end, reads = reading(read, view('[engine]\nfitted = false\nspeed.idle = "750 r/min"\n'))
    assert isinstance(end, NotFitted)
    assert end.path == "engine"
    assert not reads.unknown


def test_is_fitted() -> None:
    build = view().build
    assert is_fitted(build.driveline.gearbox)
    assert not is_fitted(build.driveline.transfer)
    assert is_fitted(build.driveline.axles["rear"])
    assert not is_fitted(build.driveline.axles["front"])
    with pytest.raises(TypeError):
        is_fitted(3.0)


def test_is_fitted_follows_changes() -> None:
    seen = view("")
    with pytest.raises(Unknown):
        is_fitted(seen.build.driveline.transfer)
    assert is_fitted(seen.changed({"driveline.transfer.low": Stated(2.0)}).build.driveline.transfer)
    assert not is_fitted(seen.changed({"driveline.transfer.fitted": Stated(False)}).build.driveline.transfer)
    with pytest.raises(Unknown):
        is_fitted(seen.changed({"driveline.transfer.low": None}).build.driveline.transfer)


# -- what a rule can do without ------------------------------------------------------------------------------
def test_given() -> None:
    (found, missing), reads = reading(lambda b: (given(lambda: b.engine.cylinders), given(lambda: b.engine.strokes)))
    assert (found, missing) == (4.0, None)
    assert not reads.unknown
    assert list(reads.optional) == ["engine.strokes"]


def test_given_of_a_part_that_is_not_fitted() -> None:
    value, reads = reading(lambda b: given(lambda: b.driveline.transfer.high))
    assert value is None
    assert not reads.unknown


def test_given_lets_other_errors_through() -> None:
    with pytest.raises(ZeroDivisionError):
        reading(lambda b: given(lambda: 1 / 0))
    end, reads = reading(lambda b: b.engine.strokes)  # and leaves nothing behind
    assert isinstance(end, Unknown)
    assert list(reads.unknown) == ["engine.strokes"]


def test_or_practice() -> None:
    value, reads = reading(lambda b: or_practice(lambda: b.engine.strokes, FALLBACK))
    assert value == 7.0
    assert list(reads.unknown) == ["engine.strokes"]
    assert list(reads.practices.values()) == [FALLBACK]
    value, reads = reading(lambda b: or_practice(lambda: b.engine.cylinders, FALLBACK))
    assert value == 4.0
    assert not reads.practices
    end, reads = reading(lambda b: or_practice(lambda: b.driveline.transfer.high, FALLBACK))
    assert isinstance(end, NotFitted)


def test_use_practice() -> None:
    value, reads = reading(lambda b: use_practice(b, FALLBACK))
    assert value == 7.0
    assert list(reads.practices) == [FALLBACK.name]
    with pytest.raises(ValueError, match="finite"):
        Practice("nothing", float("nan"), SOURCE)


def test_paths_and_names() -> None:
    build = view().build
    rear = build.driveline.axles["rear"]
    assert (path_of(rear), name_of(rear)) == ("driveline.axles.rear", "rear")
    assert [name_of(axle) for axle in each_of(build.driveline.axles)] == ["front", "rear"]
    assert len(each_of(build.driveline.axles, build.engine.torque_curve)) == 4
    with pytest.raises(TypeError):
        path_of(3.0)


# -- quantities ----------------------------------------------------------------------------------------------
CALLS: list[str] = []


@quantity("gearing.made-up", formula="cylinders × strokes", sources=[SOURCE])
def work(build: Build) -> float:
    """An invented number."""
    CALLS.append("work")
    return build.engine.cylinders * build.engine.strokes


@quantity("gearing.made-up-axle", formula="2 × ratio", sources=[SOURCE], each=lambda b: each_of(b.driveline.axles))
def of_axle(build: Build, axle: Any) -> float:
    """An invented number of one axle."""
    CALLS.append(name_of(axle))
    return 2.0 * float(axle.ratio)


KNOWN = SPEC.replace("cylinders = 4", "cylinders = 4\nstrokes = 4")


def test_a_quantity_is_computed_once_for_each_view_and_part() -> None:
    CALLS.clear()
    seen = view(KNOWN + "\n[driveline.axles.tag]\nratio = 3.0\n")
    rear, tag = seen.build.driveline.axles["rear"], seen.build.driveline.axles["tag"]
    for _ in range(3):
        assert work(seen.build) == 16.0
        assert of_axle(seen.build, rear) == pytest.approx(8.2)
        assert of_axle(seen.build, tag) == 6.0
    assert CALLS == ["work", "rear", "tag"]


def test_every_user_of_a_quantity_is_told_what_it_read() -> None:
    seen = view(KNOWN)
    for _ in range(2):
        value, reads = reading(lambda b: work(b), seen)
        assert value == 16.0
        assert list(reads.fields) == ["engine.cylinders", "engine.strokes"]
        assert list(reads.quantities) == ["gearing.made-up"]


def test_a_quantity_that_is_unknown_is_unknown_each_time() -> None:
    CALLS.clear()
    seen = view()
    for _ in range(2):
        end, reads = reading(lambda b: work(b), seen)
        assert isinstance(end, Unknown)
        assert list(reads.unknown) == ["engine.strokes"]
    assert CALLS == ["work"]


@pytest.mark.parametrize("probing", [False, True])
@pytest.mark.parametrize(
    "order", [("need", "optional"), ("optional", "need"), ("optional", "optional", "need", "need")]
)
def test_who_asked_first_does_not_matter(order: tuple[str, ...], probing: bool) -> None:
    """A quantity that one rule can do without and another cannot: neither hears what the other made of it."""
    seen = view(probing=probing)
    for how in order:
        if how == "optional":
            value, reads = reading(lambda b: given(lambda: work(b)), seen)
            assert value is None
            assert not reads.unknown
            assert list(reads.optional) == ["engine.strokes"]
        else:
            end, reads = reading(lambda b: work(b), seen)
            assert isinstance(end, Unknown) != probing
            assert list(reads.unknown) == ["engine.strokes"]
            assert not reads.optional


def test_a_change_reaches_only_what_it_touches() -> None:
    CALLS.clear()
    seen = view(KNOWN)
    rear = seen.build.driveline.axles["rear"]
    _ = work(seen.build), of_axle(seen.build, rear)
    other = seen.changed({"engine.strokes": Stated(2.0)})
    assert work(other.build) == 8.0
    assert of_axle(other.build, other.build.driveline.axles["rear"]) == pytest.approx(8.2)
    assert work(seen.build) == 16.0
    assert CALLS == ["work", "rear", "work"]


def test_a_part_that_a_change_takes_away_takes_its_quantities_with_it() -> None:
    seen = view(KNOWN)
    assert work(seen.build) == 16.0
    with pytest.raises(NotFitted):
        work(seen.changed({"engine.fitted": Stated(False)}).build)


def test_a_change_takes_a_field_away() -> None:
    seen = view(KNOWN).changed({"engine.strokes": None})
    with pytest.raises(Unknown):
        work(seen.build)
    with pytest.raises(Unknown):
        _ = view(KNOWN, {"driveline.gearbox.ratios": None}).build.driveline.gearbox.ratios


def test_a_quantity_is_called_with_the_build() -> None:
    with pytest.raises(TypeError, match="build first"):
        work(3.0)  # type: ignore[arg-type]


# -- several views of one build, or of one after another ------------------------------------------------------
VALUES = {
    "a value": lambda b: b.engine.speed.idle,
    "a value of a named part": lambda b: b.driveline.axles["rear"].ratio,
    "a value of an item": lambda b: b.engine.torque_curve[0].torque,
    "an entry of a list": lambda b: b.driveline.gearbox.ratios[1],
    "a value that is not stated": lambda b: given(lambda: b.engine.strokes),
    "whether a part is fitted": lambda b: is_fitted(b.driveline.transfer),
    "the names of parts": lambda b: [name_of(axle) for axle in each_of(b.driveline.axles)],
    "the number of items": lambda b: given(lambda: len(b.engine.torque_curve)),
}
NEWER = {
    "engine.speed.idle": Stated(90.0),
    "driveline.axles.rear.ratio": Stated(3.0),
    "engine.torque_curve[1].torque": Stated(333.0),
    "driveline.gearbox.ratios[2]": Stated(1.5),
}
LATER = SPEC.replace("750", "900").replace("4.1", "3.5").replace("300 Nm", "310 Nm").replace("2.0]", "1.9, 1.0]")


def views() -> dict[str, View]:
    """Views that share what they can with the first one, each unlike it."""
    first = view()
    return {
        "as stated": first,
        "values": first.changed(NEWER),
        "other values": first.changed({**NEWER, "engine.speed.idle": Stated(95.0)}),
        "values and one more": first.changed({**NEWER, "engine.strokes": Stated(4.0)}),
        "values and another one more": first.changed({"engine.strokes": Stated(2.0)}),
        "a part less": first.changed({"driveline.axles": None, "driveline.transfer.fitted": Stated(True)}),
        "a list less": first.changed({"engine.torque_curve": None, "driveline.gearbox.ratios": None}),
        "after an edit": View.following(first, load_text(LATER).build, {"engine.speed.idle"}),
        "a change of a change": first.changed(NEWER).changed({"engine.speed.idle": Stated(99.0)}),
    }


def what_is_read(function: Callable[[Any], Any], seen: View) -> Any:
    value, _ = reading(function, seen)
    return (type(value), value.path) if isinstance(value, Unknown | NotFitted) else value


@pytest.mark.parametrize("what", VALUES)
def test_views_read_in_turn_say_what_each_says_alone(what: str) -> None:
    alone = {name: what_is_read(VALUES[what], seen) for name in views() for seen in [views()[name]]}
    assert len({repr(value) for value in alone.values()}) > 1  # else it would not matter which view answers
    for order in (list(alone), list(reversed(alone)), [*alone, *alone]):
        seen = views()
        assert {name: what_is_read(VALUES[what], seen[name]) for name in order} == alone


def test_nodes_of_an_older_view_keep_answering_for_it_after_a_newer_one_was_read() -> None:
    def nodes(seen: View) -> dict[str, Any]:
        b: Any = seen.build
        return {"rear": b.driveline.axles["rear"], "point": b.engine.torque_curve[0], "box": b.driveline.gearbox}

    def values(held: dict[str, Any]) -> tuple[float, ...]:
        return (held["rear"].ratio, held["point"].torque, *held["box"].ratios)

    first = view()
    older = nodes(first)
    newer = nodes(first.changed(NEWER))  # taken before either was read
    assert values(newer) == (3.0, 333.0, 4.0, 1.5)
    assert values(older) == (4.1, 300.0, 4.0, 2.0)
    after = nodes(View.following(first, load_text(LATER).build, set()))
    for _ in range(2):
        assert values(after) == (3.5, 310.0, 4.0, 1.9, 1.0)
        assert values(newer) == (3.0, 333.0, 4.0, 1.5)
        assert values(older) == (4.1, 300.0, 4.0, 2.0)


def test_each_view_records_what_is_read_of_its_own_nodes() -> None:
    first = view()
    newer = first.changed(NEWER)
    mine, theirs = first.build.driveline.axles["rear"], newer.build.driveline.axles["rear"]
    _, reads = reading(lambda b: (mine.ratio, theirs.ratio), newer)
    assert list(reads.fields) == ["driveline.axles.rear.ratio"]
    _, reads = reading(lambda b: theirs.ratio, first)
    assert not reads.fields


def test_made_up_parts_of_a_probing_view_are_its_own() -> None:
    probe, plain = view("", probing=True), view("")
    assert len(probe.build.driveline.axles) == 1
    end, _ = reading(lambda b: b.driveline.axles, plain)
    assert isinstance(end, Unknown)
    assert len(view("", probing=True).build.driveline.axles) == 1


# -- another case -----------------------------------------------------------------------------------------------
def test_another_case_has_other_values_and_the_build_keeps_its_own() -> None:
    def read(build: Any) -> tuple[float, ...]:
        hot = at(
            build, {"engine.speed.idle": 100.0, "driveline.axles.rear.ratio": 3, "driveline.gearbox.ratios[2]": 1.5}
        )
        rear, hot_rear = build.driveline.axles["rear"], hot.driveline.axles["rear"]
        ratios = (*hot.driveline.gearbox.ratios, *build.driveline.gearbox.ratios)
        return (hot.engine.speed.idle, build.engine.speed.idle, hot_rear.ratio, rear.ratio, hot_rear.ratio, *ratios)

    values, _ = reading(read)
    assert values == (100.0, pytest.approx(78.5398163397), 3.0, 4.1, 3.0, 4.0, 1.5, 4.0, 2.0)


def test_what_is_read_of_another_case_counts_as_read() -> None:
    def read(build: Any) -> None:
        hot = at(build, {"engine.speed.idle": 100.0})
        _ = hot.engine.cylinders, build.driveline.axles["rear"].ratio, hot.engine.speed.idle

    _, reads = reading(read)
    assert list(reads.fields) == [
        "engine.cylinders",
        "driveline.axles",
        "driveline.axles.rear.ratio",
        "engine.speed.idle",
    ]


def test_what_another_case_lacks_is_unknown() -> None:
    end, reads = reading(lambda b: at(b, {"engine.cylinders": None}).engine.cylinders)
    assert isinstance(end, Unknown)
    assert list(reads.unknown) == ["engine.cylinders"]
    value, reads = reading(lambda b: given(lambda: at(b, {"engine.cylinders": 6}).engine.strokes))
    assert value is None
    assert list(reads.optional) == ["engine.strokes"]
    value, reads = reading(lambda b: or_practice(lambda: at(b, {"engine.cylinders": 6}).engine.strokes, FALLBACK))
    assert (value, list(reads.practices)) == (7.0, [FALLBACK.name])


def test_words_flags_and_parts_of_another_case() -> None:
    def read(build: Any) -> tuple[Any, ...]:
        other = at(build, {"driveline.transfer.fitted": True, "driveline.gearbox.kind": "manual"})
        return is_fitted(other.driveline.transfer), is_fitted(build.driveline.transfer), other.driveline.gearbox.kind

    assert reading(read)[0] == (True, False, "manual")
    assert reading(lambda b: at(b, {"driveline.transfer.fitted": True}).driveline.transfer.high)[0] == 1.0


def test_a_case_of_a_case_has_both_changes() -> None:
    def read(build: Any) -> tuple[Any, ...]:
        one = at(build, {"engine.speed.idle": 100.0})
        both = at(one, {"engine.cylinders": 6})
        return both.engine.speed.idle, both.engine.cylinders, one.engine.cylinders, build.engine.speed.idle

    values, reads = reading(read)
    assert values == (100.0, 6.0, 4.0, pytest.approx(78.5398163397))
    assert list(reads.fields) == ["engine.speed.idle", "engine.cylinders"]


@pytest.mark.parametrize("first", ["build", "case"])
def test_quantities_of_both_cases_are_right_whichever_comes_first(first: str) -> None:
    def read(build: Any) -> dict[str, float]:
        case = at(build, {"engine.strokes": 2, "driveline.axles.rear.ratio": 3.0})
        both = {"build": build, "case": case}
        order = [first, *(name for name in both if name != first)]
        return {
            name: float(work(both[name]) + 100 * of_axle(both[name], both[name].driveline.axles["rear"]))
            for name in [*order, *order]
        }

    CALLS.clear()
    values, reads = reading(read, view(KNOWN))
    assert values == {"build": pytest.approx(16.0 + 820.0), "case": pytest.approx(8.0 + 600.0)}
    assert sorted(CALLS) == ["rear", "rear", "work", "work"]  # once in each case
    assert list(reads.quantities) == ["gearing.made-up", "gearing.made-up-axle"]


def test_a_quantity_that_a_case_does_not_touch_is_taken_from_the_build() -> None:
    CALLS.clear()
    seen = view(KNOWN)
    _, reads = reading(lambda b: (work(b), work(at(b, {"engine.speed.idle": 100.0}))), seen)
    assert CALLS == ["work"]
    assert list(reads.fields) == ["engine.cylinders", "engine.strokes"]


@quantity("gearing.made-up-case", formula="work at two strokes", sources=[SOURCE])
def of_case(build: Build) -> float:
    """An invented number that looks at another case."""
    return float(work(at(build, {"engine.strokes": 2})))


def test_a_quantity_may_look_at_another_case_on_any_view() -> None:
    seen = view(KNOWN)
    assert (of_case(seen.build), work(seen.build)) == (8.0, 16.0)
    other = seen.changed({"engine.cylinders": Stated(6.0)})
    assert (of_case(other.build), work(other.build)) == (12.0, 24.0)
    after = View.following(seen, load_text(KNOWN.replace("cylinders = 4", "cylinders = 3")).build, {"engine.cylinders"})
    assert (of_case(after.build), work(after.build)) == (6.0, 12.0)
    _, reads = reading(lambda b: of_case(b), seen)
    assert list(reads.fields) == ["engine.cylinders", "engine.strokes"]


def test_what_is_read_of_a_case_touches_what_rests_on_it() -> None:
    """A rule that reads a field only in another case is asked again when that field changes."""
    seen = view(KNOWN)
    _, reads = reading(lambda b: at(b, {"engine.cylinders": 6}).engine.strokes, seen)
    assert seen.changed({"engine.strokes": Stated(2.0)}).touches(reads)
    assert not seen.changed({"engine.speed.idle": Stated(2.0)}).touches(reads)


# -- probing -------------------------------------------------------------------------------------------------
def test_probing_goes_on_with_typical_values_and_lists_all_that_is_missing() -> None:
    def read(build: Any) -> float:
        if not is_fitted(build.driveline.converter) and not build.driveline.axles["rear"].driven:
            return 0.0
        return float(build.engine.strokes + build.vehicle.mass.gvwr + len(build.supply))

    value, reads = reading(read, view(probing=True))
    assert value == 4.0 + 3000.0 + 2  # two made-up items stand for a list that is not stated
    assert list(reads.unknown) == [
        "driveline.converter",
        "driveline.axles.rear.driven",
        "engine.strokes",
        "vehicle.mass.gvwr",
        "supply",
    ]


def test_probing_does_not_guess_what_is_optional() -> None:
    value, reads = reading(lambda b: given(lambda: b.engine.strokes), view(probing=True))
    assert value is None
    assert not reads.unknown


# -- a pack's own section ------------------------------------------------------------------------------------
class Hoist(Part):
    """Fields of an invented pack."""

    load: float = fields.measure("load", "mass", "kg", typical=500, plausible=(1, 5000), where=fields.LOOK)


class Other(Section):
    """Fields of another one."""


def test_section_of_gives_the_packs_own_section() -> None:
    from pydantic import create_model

    model = create_model("Build", __base__=Build, acme=(Hoist, fields.part("fields of a pack")))
    seen = View(load_text('acme.load = "800 kg"\n', model=model).build)
    load, reads = reading(lambda b: section_of(b, Hoist).load, seen)
    assert load == 800.0
    assert list(reads.fields) == ["acme.load"]
    empty = View(load_text("", model=model).build)
    end, reads = reading(lambda b: section_of(b, Hoist).load, empty)
    assert isinstance(end, Unknown)
    assert end.path == "acme.load"
    with pytest.raises(LookupError, match="no loaded rule pack adds a section Other"):
        section_of(seen.build, Other)
    assert view_of(seen.build) is seen


def test_a_view_that_is_let_go_answers_as_before_and_holds_nothing() -> None:
    import gc
    import weakref

    whole = view()
    other = whole.changed({"engine.speed.idle": Stated(70.0)})
    further = other.changed({"engine.cylinders": Stated(6.0)})
    before = (other.build.engine.speed.idle, other.build.engine.cylinders, further.build.engine.cylinders)
    other.let_go()
    after = (other.build.engine.speed.idle, other.build.engine.cylinders, further.build.engine.cylinders)
    assert after == before == (70.0, 4.0, 6.0)
    other.let_go()
    further.let_go()
    whole._changed.clear()
    gone = weakref.ref(other.root), weakref.ref(further.root)
    other.let_go()
    further.let_go()
    gc.disable()
    try:
        assert [one() for one in gone] == [None, None]  # without the collector
    finally:
        gc.enable()
