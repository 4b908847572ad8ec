"""Axles by their place, groups of axles and parts that were out at the weighbridge. Each number with its working."""

from collections.abc import Mapping
from typing import Any, ClassVar

import pytest

from swaplint.kit.trial import of_part, one, trial, value

AXLE = {"driven": True, "ratio": 4.3, "torque_share": "60 %", "integral": False}
GRIP = "driveline.axle-grip-torque"

# A tandem under the sound spec: axles at 2500 and 3300 mm, each with half of the load, so that the group's middle lies
# where the rear axle was, at 2900 mm. Cargo and crew do as before; the coupling is 1100 mm behind the last axle.
TANDEM: dict[str, Any] = {
    "driveline.axles.rear.x": "2500 mm",
    "driveline.axles.rear.group_share": "50 %",
    "driveline.axles.rear.rating": "900 kg",
    "driveline.axles.tag": {"driven": False, "x": "3300 mm", "group_share": "50 %", "rating": "850 kg"},
}
# (180·1250 + 560·2500 + 50·4400)/2900 = 1 845 000/2900 = 636.21 kg; + 760 at the kerb + 11.93 of the ledger.
GROUP = 760 + 34600 / 2900 + 1845000 / 2900  # 1408.14 kg


def axles(**named: Mapping[str, Any]) -> dict[str, Any]:
    return {"driveline.axles": {name: {**AXLE, **own} for name, own in named.items()}}


class TestPlace:
    def test_ratings_as_the_names_say(self) -> None:
        # The tyres grip in proportion to the rating: 1750 kg behind, 1300 kg in front.
        assert value(GRIP, part="rear") / value(GRIP, part="front") == pytest.approx(1750 / 1300)

    def test_an_axle_of_any_name_has_the_rating_of_its_place(self) -> None:
        edits = axles(a1={"x": "0 mm"}, a2={"x": "2900 mm"})
        assert value(GRIP, edits, part="a1") == pytest.approx(value(GRIP, part="front"))
        assert value(GRIP, edits, part="a2") == pytest.approx(value(GRIP, part="rear"))

    def test_the_place_of_one_tells_that_of_the_other(self) -> None:
        edits = axles(steered={"x": "0 mm"}, drive={})
        assert value(GRIP, edits, part="drive") == pytest.approx(value(GRIP, part="rear"))
        edits = axles(steered={}, rear={})
        assert value(GRIP, edits, part="steered") == pytest.approx(value(GRIP, part="front"))

    def test_the_place_counts_for_more_than_the_name(self) -> None:
        edits = axles(front={"x": "2900 mm"}, rear={"x": "0 mm"})
        assert value(GRIP, edits, part="front") == pytest.approx(value(GRIP, part="rear"))
        assert value(GRIP, edits, part="rear") == pytest.approx(value(GRIP, part="front"))

    def test_a_name_that_only_begins_like_one_says_nothing(self) -> None:
        finding = one("gearing.gradeability", axles(frontier={}, other={}))
        assert finding.kind == "open"
        assert "driveline.axles.frontier.x" in finding.unknown

    def test_an_empty_table_of_axles_is_a_question(self) -> None:
        for axles_stated in ({}, None):
            found = one("gearing.crawl", {"driveline.axles": axles_stated})
            assert (found.kind, found.unknown) == ("open", ("driveline.axles",))

    def test_what_drives_is_rated_by_its_place(self) -> None:
        # Only the front axle drives: 1300 of 2800 kg stand on it at most, and the grade g takes a quarter of it off, as
        # the centre of gravity lies a quarter of the wheelbase high: 0.7·(1300/2800 - 0.25·g) - 0.05 = g, so 23.4 %.
        # Behind, what it adds counts only where the height is stated: 0.7·1750/2800 - 0.05 = 38.75 %. The lowest gear
        # pulls more than either.
        front = axles(a1={"x": "0 mm"}, a2={"x": "2900 mm", "driven": False})
        rear = axles(a1={"x": "0 mm", "driven": False}, a2={"x": "2900 mm"})
        alone = {"driveline.shafts": {}}
        assert value("gearing.steepest-climb", front | alone) == pytest.approx(23.4, abs=0.1)
        assert value("gearing.steepest-climb", rear | alone) == pytest.approx(38.75, abs=0.1)


class TestGroup:
    def test_loads_of_the_group_and_of_each_axle(self) -> None:
        assert value("mass.axle-load", TANDEM, part="laden rear") == pytest.approx(GROUP)
        assert value("mass.grouped-axle-load", TANDEM, part="laden driveline.axles.tag") == pytest.approx(GROUP / 2)

    def test_an_uneven_share_moves_the_middle_of_the_group(self) -> None:
        # 60 % at 2500, 40 % at 3300 mm: the middle stands at 2820 mm. The ledger puts 34 600/2820 there, the load
        # 1 845 000/2820: together 760 + 12.27 + 654.26 = 1426.52 kg, of which 60 % are 855.91 kg.
        edits = TANDEM | {"driveline.axles.rear.group_share": "60 %", "driveline.axles.tag.group_share": "40 %"}
        assert value("mass.axle-load", edits, part="laden rear") == pytest.approx(760 + 1879600 / 2820)
        assert value("mass.grouped-axle-load", edits, part="laden driveline.axles.rear") == pytest.approx(
            855.91, abs=0.01
        )

    def test_the_group_is_rated_by_its_axles_where_that_is_less(self) -> None:
        # 1750 kg for the rear by the plate, 900 + 850 kg by the axles: equal. 800 + 850 kg are less.
        assert value("mass.end-rating", TANDEM, part="rear") == pytest.approx(1750)
        less = TANDEM | {"driveline.axles.rear.rating": "800 kg"}
        assert value("mass.end-rating", less, part="rear") == pytest.approx(1650)

    @pytest.mark.parametrize(("rating", "kind"), [("705 kg", "pass"), ("703 kg", "fail")])
    def test_the_rating_of_one_axle(self, rating: str, kind: str) -> None:
        finding = of_part(
            "mass.axle-group",
            "laden driveline.axles.tag",
            TANDEM | {"driveline.axles.tag.rating": rating},
            demand="rating",
        )
        assert (finding.kind, finding.level) == (kind, "error" if kind == "fail" else None)
        assert finding.found == pytest.approx(GROUP / 2)

    def test_twins_on_one_axle_of_the_group(self) -> None:
        # Load index 114 single is 1180 kg, 112 on twins 1120 kg; (400/550)^0.8 = 0.7751 for the pressure:
        # 4·1120·0.7751 = 3472.5 kg under the twins, 2·1180·0.7751 = 1829.3 kg under the tag axle.
        edits = TANDEM | {"driveline.axles.rear.tyre_count": 4, "driveline.tyres.load_index_dual": 112}
        share = (400 / 550) ** 0.8
        assert value("mass.tyre-capacity", edits, part="rear") == pytest.approx((4480 + 2360) * share)
        finding = of_part("mass.axle-group", "laden driveline.axles.rear", edits, demand="tyres")
        assert finding.limit is not None
        assert finding.limit.value == pytest.approx(4480 * share)

    def test_springs_of_a_group_share_the_load(self) -> None:
        assert value("mass.sink", TANDEM, part="rear") == pytest.approx(value("mass.sink", part="rear") / 2)

    @pytest.mark.parametrize("field", ["x", "group_share"])
    def test_what_is_not_known_of_an_axle_is_asked(self, field: str) -> None:
        finding = of_part("mass.axle-rating", "laden rear", TANDEM | {f"driveline.axles.tag.{field}": None})
        assert (finding.kind, finding.unknown) == ("open", (f"driveline.axles.tag.{field}",))

    def test_shares_that_do_not_make_the_whole(self) -> None:
        edits = TANDEM | {"driveline.axles.tag.group_share": "40 %"}
        finding = of_part("mass.axle-rating", "laden rear", edits)
        assert finding.kind == "review"
        assert "90 % instead of 100 %" in finding.message

    def test_two_axles_in_front(self) -> None:
        # At 0 and 1000 mm, evenly: the front stands at 500 mm, 2400 mm ahead of the rear. The ledger's moment about it
        # is 34 600 - 78·500 = -4400 kg·mm, so the rear changes by -1.833 kg and the front by 79.833 kg.
        edits = {
            "driveline.axles.front.x": "0 mm",
            "driveline.axles.front.group_share": "50 %",
            "driveline.axles.second": {"x": "1000 mm", "group_share": "50 %", "driven": False, "rating": "1200 kg"},
        }
        assert value("mass.axle-change", edits, part="rear") == pytest.approx(-4400 / 2400)
        assert value("mass.axle-change", edits, part="front") == pytest.approx(78 + 4400 / 2400)

    def test_two_axles_are_no_group(self) -> None:
        assert [finding.kind for finding in trial("mass.axle-group")] == ["notApplicable"]


class TestWeighedWithoutIt:
    # The old engine, 210 kg at 80 mm, was out when the vehicle was weighed: it put 210·80/2900 = 5.793 kg on the rear
    # and 204.207 kg on the front, which the weighbridge did not show.
    OUT: ClassVar[dict[str, Any]] = {
        "vehicle.ledger.old_engine.out_when_weighed": True,
        "vehicle.mass.kerb_front": {"value": f"{1020 - 210 + 210 * 80 / 2900} kg", "basis": "measured"},
        "vehicle.mass.kerb_rear": {"value": f"{760 - 210 * 80 / 2900} kg", "basis": "measured"},
    }

    @pytest.mark.parametrize("part", ["laden front", "laden rear", "driver_only front"])
    def test_it_is_the_same_vehicle(self, part: str) -> None:
        assert value("mass.axle-load", self.OUT, part=part) == pytest.approx(value("mass.axle-load", part=part))
        assert value("mass.power-to-mass-before", self.OUT) == pytest.approx(value("mass.power-to-mass-before"))

    def test_sides_differ_only_by_the_share_of_the_engine(self) -> None:
        # 50.4 % of what was weighed stand on the left; the engine stood on the centre line. 0.4 % of 204.207 kg, twice
        # over, are 1.634 kg less on the left of 1246.76 kg in front.
        now, whole = (value("mass.side-difference", edits, part="laden front") for edits in (self.OUT, {}))
        assert whole - now == pytest.approx(100 * 2 * 0.004 * 204.207 / 1246.76, rel=1e-3)

    def test_forgotten_it_is_taken_out_twice(self) -> None:
        twice = {**self.OUT, "vehicle.ledger.old_engine.out_when_weighed": None}
        assert value("mass.empty", twice) == pytest.approx(1858 - 210)

    def test_only_what_comes_out_can_have_been_out(self) -> None:
        edits = {"vehicle.ledger.engine.out_when_weighed": True}
        assert one("mass.ledger-sense", edits, demand="out-when-weighed").kind == "fail"
        assert one("mass.ledger-sense", self.OUT, demand="out-when-weighed").kind == "pass"
        nothing = {"vehicle.ledger.mounts.out_when_weighed": True, "vehicle.ledger.mounts.mass": "0 kg"}
        assert one("mass.ledger-sense", nothing, demand="out-when-weighed").kind == "fail"


@pytest.mark.parametrize(
    ("edits", "begins"), [({}, "The rear axle carries"), (TANDEM, "The group of rear axles carries")]
)
def test_an_axle_and_a_group_are_called_what_they_are(edits: dict[str, Any], begins: str) -> None:
    assert of_part("mass.axle-rating", "laden rear", edits).message.startswith(begins)


def test_what_is_too_much_for_an_axle_of_a_group_is_said_only_there() -> None:
    # the middle at 0.75·2500 + 0.25·3300 = 2700 mm: 760 + 1 879 600/2700 = 1456.15 kg, of which three quarters on an
    # axle that is rated for 900 kg
    uneven = TANDEM | {"driveline.axles.rear.group_share": "75 %", "driveline.axles.tag.group_share": "25 %"}
    over = of_part("mass.axle-group", "laden driveline.axles.rear", uneven, demand="rating")
    within = of_part("mass.axle-group", "laden driveline.axles.tag", uneven, demand="rating")
    assert "193 kg must go from it" in over.message  # 1092.11 - 900, rounded up
    assert "must go" not in within.message
