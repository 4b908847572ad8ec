"""Answers in the place of lines that are commented out."""

from __future__ import annotations

import tomllib
from typing import Any

import pytest

from swaplint.spec.editing import EditError
from swaplint.spec.editing.commented import answered, commented_lines
from swaplint.spec.paths import path_key, path_text

DRAFT = """\
## the vehicle
[vehicle]
# wheelbase = "2900 mm"        # from axle to axle (a tape measure)
# mass.gvwr = "3000 kg"
note = \"\"\"
# wheelbase = "no comment"
\"\"\"

## the axles
# [driveline.axles.front]
# driven = true                # whether it is driven
#     ## more of it
# ratio = 4.1
"""


def lines_changed(text: str, changes: dict[str, Any]) -> list[tuple[str, str]]:
    """The lines that differ, before and after; the file has as many before as after."""
    new = answered(text, {path_key(path): value for path, value in changes.items()})
    before, after = text.split("\n"), new.split("\n")
    assert len(before) == len(after)
    return [(b, a) for b, a in zip(before, after, strict=True) if b != a]


def test_the_answer_takes_the_place_of_the_line_and_its_remark_stays_where_it_stood() -> None:
    old = '# wheelbase = "2900 mm"        # from axle to axle (a tape measure)'
    new = 'wheelbase = "2850 mm"          # from axle to axle (a tape measure)'
    assert lines_changed(DRAFT, {"vehicle.wheelbase": "2850 mm"}) == [(old, new)]


def test_a_long_answer_pushes_the_remark_away() -> None:
    ((_, new),) = lines_changed(DRAFT, {"vehicle.wheelbase": {"value": "2850 mm", "tol": "10 mm", "basis": "measured"}})
    stated = 'wheelbase = { value = "2850 mm", tol = "10 mm", basis = "measured" }'
    assert new == f"{stated}  # from axle to axle (a tape measure)"


def test_a_dotted_key_stays_dotted() -> None:
    assert lines_changed(DRAFT, {"vehicle.mass.gvwr": "3500 kg"}) == [
        ('# mass.gvwr = "3000 kg"', 'mass.gvwr = "3500 kg"')
    ]


def test_a_header_that_is_commented_out_comes_with_its_first_answer() -> None:
    assert lines_changed(DRAFT, {"driveline.axles.front.ratio": 3.9}) == [
        ("# [driveline.axles.front]", "[driveline.axles.front]"),
        ("# ratio = 4.1", "ratio = 3.9"),
    ]
    assert lines_changed(DRAFT, {"driveline.axles.front": {}}) == [
        ("# [driveline.axles.front]", "[driveline.axles.front]")
    ]


def test_two_answers_below_one_header() -> None:
    changes = {"driveline.axles.front.ratio": 3.9, "driveline.axles.front.driven": False}
    assert [new for _, new in lines_changed(DRAFT, changes)] == [
        "[driveline.axles.front]",
        "driven = false                 # whether it is driven",
        "ratio = 3.9",
    ]


def test_another_part_leaves_the_example_block() -> None:
    new = answered(DRAFT, {path_key("driveline.axles.rear.ratio"): 4.1})
    assert new == DRAFT + "\n[driveline.axles.rear]\nratio = 4.1\n"


def test_what_is_stated_is_changed_where_it_stands() -> None:
    text = '[vehicle]\n# wheelbase = "2900 mm"\nwheelbase = "3000 mm"\n'
    assert answered(text, {path_key("vehicle.wheelbase"): "3100 mm"}) == text.replace("3000", "3100")


def test_a_line_that_cannot_be_uncommented_where_it_stands_is_left() -> None:
    text = '[vehicle]\n# mass.gvwr = "3000 kg"\n\n[vehicle.mass]\ngcwr = "5000 kg"\n'
    new = answered(text, {path_key("vehicle.mass.gvwr"): "3500 kg"})
    assert new == text + 'gvwr = "3500 kg"\n'


def test_a_commented_header_above_lines_of_another_table_is_left() -> None:
    text = '[vehicle]\n# [vehicle.mass]\n# gvwr = "3000 kg"\nname = "x"\n'
    new = answered(text, {path_key("vehicle.mass.gvwr"): "3500 kg"})
    assert tomllib.loads(new) == {"vehicle": {"name": "x", "mass": {"gvwr": "3500 kg"}}}
    assert all(line in new.split("\n") for line in text.split("\n"))


@pytest.mark.parametrize("end", ["\n", "\r\n"])
@pytest.mark.parametrize("mark", ["", "\ufeff"])
def test_line_ends_and_the_byte_order_mark_stay(end: str, mark: str) -> None:
    text = mark + DRAFT.replace("\n", end)
    new = answered(text, {path_key("vehicle.wheelbase"): "2850 mm"})
    assert new == text.replace('# wheelbase = "2900 mm"        #', 'wheelbase = "2850 mm"          #')


def test_which_lines_are_commented_out() -> None:
    assert [path_text(line.path) for line in commented_lines(DRAFT)] == [
        "vehicle.wheelbase",
        "vehicle.mass.gvwr",
        "driveline.axles.front",
        "driveline.axles.front.driven",
        "driveline.axles.front.ratio",
    ]


def test_what_makes_no_sense_is_refused_as_ever() -> None:
    with pytest.raises(EditError):
        answered("[a]\nb = 1\n", {("a", "b", "c"): 1})
    with pytest.raises(EditError):
        answered("a = [", {("a",): 1})
