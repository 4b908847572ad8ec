"""When parts come and when the vehicle is ready, by a calendar and a pencil."""

from __future__ import annotations

import pytest

from swaplint.kit.trial import of_part, one, trial

LEAD, END = "supply.lead-time", "supply.end-date"


# -- each part --------------------------------------------------------------------------------------------------------
@pytest.mark.parametrize(
    ("lead", "kind", "slack"),
    [("122 days", "pass", 0), ("123 days", "fail", -1), ("17.5 weeks", "fail", -1), ("0 days", "pass", 122)],
)
def test_a_part_comes_no_later_than_the_work_starts(lead: str, kind: str, slack: int) -> None:
    # from 2026-05-31 to 2026-09-30: 30 days of June, 31 of July, 31 of August, 30 of September = 122
    # 17.5 weeks are 122.5 days
    found = of_part(LEAD, "supply[5]", {"supply[5].lead_time": lead})
    assert found.kind == kind
    assert found.found == pytest.approx(slack * 86400.0)


def test_the_latest_day_for_the_order_is_named() -> None:
    # needed on 2026-09-30, 3 weeks before that is 2026-09-09
    assert "Order it by 2026-09-09." in of_part(LEAD, "supply[2]").message
    late = of_part(LEAD, "supply[2]", {"supply[2].needed_on": "2026-06-10"})
    assert "it comes 11 days late. It was to be ordered by 2026-05-20." in late.message


@pytest.mark.parametrize(
    ("step", "needed"),
    # the work starts on 2026-09-30; 3 days, then 4, 10, 10, 2 and 3
    [
        ("strip", "2026-09-30"),
        ("trial-fit", "2026-10-03"),
        ("fabricate", "2026-10-07"),
        ("assemble", "2026-10-17"),
        ("first-start", "2026-10-27"),
        ("road-test", "2026-10-29"),
        ("hand-over", "2026-11-01"),
    ],
)
def test_a_part_is_needed_when_its_step_begins(step: str, needed: str) -> None:
    assert f"is needed on {needed}:" in of_part(LEAD, "supply[5]", {"supply[5].needed_at": step}).message


def test_a_day_of_its_own_goes_before_the_step() -> None:
    edits = {"supply[5].needed_at": "road-test", "supply[5].needed_on": "2026-10-11"}
    assert "is needed on 2026-10-11:" in of_part(LEAD, "supply[5]", edits).message


def test_how_long_the_steps_take_is_asked_only_where_a_step_is_named() -> None:
    unsaid = {"quote.work": None}
    assert of_part(LEAD, "supply[5]", unsaid).kind == "pass"
    found = of_part(LEAD, "supply[5]", unsaid | {"supply[5].needed_at": "trial-fit"})
    assert (found.kind, found.unknown[0]) == ("open", "quote.work.strip")


# -- all of them ------------------------------------------------------------------------------------------------------
def test_nothing_late_and_the_work_itself_decides() -> None:
    # 3 + 4 + 10 + 10 + 2 + 3 + 2 = 34 days from 2026-09-30: one of September, 31 of October, 2026-11-03
    found = one(END)
    assert (found.kind, found.found) == ("pass", pytest.approx(58 * 86400.0))  # 27 days to the end of November, 31
    assert "it is ready on 2026-11-03 and promised for 2026-12-31: 58 days in hand. The work itself" in found.message


def test_a_part_that_comes_late_puts_off_its_step_and_all_after_it() -> None:
    # the battery is there on 2026-05-31 + 150 days = 2026-10-28 and needed for the trial fit of 2026-10-03; that then
    # begins 25 days late, and the vehicle is ready on 2026-11-28
    late = {"supply[5].lead_time": "150 days", "supply[5].needed_at": "trial-fit", "quote.ready_on": "2026-11-20"}
    found = one(END, late)
    assert (found.kind, found.level, found.found) == ("fail", "warning", pytest.approx(-8 * 86400.0))
    assert "it is ready on 2026-11-28 and promised for 2026-11-20, 8 days too late. Parts hold it up." in found.message


def test_two_late_parts_of_two_steps_do_not_add_up() -> None:
    # the battery holds the trial fit up until 2026-10-28, which ends on 2026-11-01, and fabrication until 2026-11-11;
    # the fuel tank for the assembly comes on 2026-05-31 + 160 days = 2026-11-07: no day more
    late = {"supply[5].lead_time": "150 days", "supply[5].needed_at": "trial-fit"}
    more = late | {"supply[4].lead_time": "160 days", "supply[4].needed_at": "assemble"}
    assert "ready on 2026-11-28" in one(END, more).message
    assert "ready on 2026-12-01" in one(END, more | {"supply[4].lead_time": "167 days"}).message


def test_the_three_parts_that_decide_are_named_with_the_day_of_their_order() -> None:
    late = {"supply[5].lead_time": "150 days", "supply[5].needed_at": "trial-fit"}
    # 150 days before 2026-10-03 is 2026-05-06; six weeks before 2026-09-30 is 2026-08-19, 80 days after 2026-05-31
    says = one(END, late).message
    assert (
        "Least time in hand: 'battery' (25 days late, order by 2026-05-06); "
        "'engine package' (80 days in hand, order by 2026-08-19); "
        "'adapter kit with clutch, or with converter' (80 days in hand, order by 2026-08-19)." in says
    )
    ordered = one(END, late | {"quote.ordered_on": "2026-05-06"})
    assert ordered.kind == "pass"
    assert "order by" not in ordered.message


def test_a_day_of_its_own_names_the_step_that_waits() -> None:
    # needed on 2026-10-08: the assembly of 2026-10-17 is the first step that begins on that day or later
    late = {"supply[5].lead_time": "150 days", "supply[5].needed_on": "2026-10-08"}
    assert "ready on 2026-11-14" in one(END, late).message  # 2026-10-28 and 10 + 2 + 3 + 2 = 17 days


def test_what_is_not_said() -> None:
    assert one(END, {"quote.ready_on": None}).unknown == ("quote.ready_on",)
    assert one(END, {"supply[5].lead_time": None}).kind == "open"
    assert {f.kind for f in trial(END, {"quote": {"fitted": False}})} == {"notApplicable"}
