"""Things done side by side: in their order, a few ahead, and none missing where a process dies."""

from __future__ import annotations

import os
import signal
import time
from collections.abc import Callable, Iterator, Sequence

import pytest

from swaplint.inspecting.side_by_side import AHEAD, Again, Lost, in_order

Said = tuple[str, int, int]
"""What became of a thing, the thing, and the process that did it."""


def done_by() -> Callable[[int], Said]:
    """A job that is slow with the first things, so that later ones are done before them."""

    def job(thing: int) -> Said:
        time.sleep(0.05 if thing < 2 else 0.0)
        return "done", thing, os.getpid()

    return job


def deadly() -> Callable[[int], Said]:
    """A job that ends its process at the sixth thing."""

    def job(thing: int) -> Said:
        if thing == 6:
            os._exit(3)
        time.sleep(0.01)
        return "done", thing, os.getpid()

    return job


def lost(thing: int, came: Lost) -> Said:
    assert came.running is None
    return "lost", thing, 0


@pytest.mark.parametrize("cores", [1, 2, 3, None])
@pytest.mark.parametrize("count", [0, 1, 2, 25])
def test_results_come_in_the_order_of_the_things(count: int, cores: int | None) -> None:
    results = list(in_order(done_by, range(count), cores, lost=lost))
    assert [(what, thing) for what, thing, _ in results] == [("done", thing) for thing in range(count)]


@pytest.mark.parametrize(("count", "cores"), [(9, 1), (1, 4)])
def test_one_core_or_one_thing_needs_no_other_process(count: int, cores: int) -> None:
    assert {process for _, _, process in in_order(done_by, range(count), cores, lost=lost)} == {os.getpid()}


def test_several_cores_are_several_processes() -> None:
    processes = {process for _, _, process in in_order(done_by, range(25), 2, lost=lost)}
    assert os.getpid() not in processes
    assert 1 <= len(processes) <= 2


def test_a_process_that_dies_loses_its_thing_alone() -> None:
    whys = []

    def noted(thing: int, came: Lost) -> Said:
        whys.append(came.why)
        return lost(thing, came)

    results = list(in_order(deadly, range(40), 2, lost=noted))
    assert [(what, thing) for what, thing, _ in results] == [("lost" if n == 6 else "done", n) for n in range(40)]
    assert whys == ["ended its process, with exit status 3"]


def test_another_thing_may_take_the_place_of_the_one_that_was_lost() -> None:
    results = list(in_order(deadly, range(20), 2, lost=lambda thing, came: Again(100 + thing)))
    assert [thing for _, thing, _ in results] == [*range(6), 106, *range(7, 20)]
    assert {what for what, _, _ in results} == {"done"}


def late() -> Callable[[int], Said]:
    """A job that ends its process at the first thing, when as much is done of the others as may be done ahead of it."""

    def job(thing: int) -> Said:
        if thing == 0:
            time.sleep(0.5)
            os._exit(3)
        return "done", thing, os.getpid()

    return job


@pytest.fixture
def _bounded() -> Iterator[None]:
    """Ends a test that would go on for ever."""

    def hangs(*_: object) -> None:
        raise AssertionError("it hangs")

    before = signal.signal(signal.SIGALRM, hangs)
    signal.alarm(20)
    yield
    signal.alarm(0)
    signal.signal(signal.SIGALRM, before)


@pytest.mark.usefixtures("_bounded")
def test_what_is_lost_late_is_done_again_though_the_others_are_as_far_ahead_as_they_may() -> None:
    results = list(in_order(late, range(20), 2, lost=lambda thing, came: Again(100 + thing)))
    assert [thing for _, thing, _ in results] == [100, *range(1, 20)]


def raising() -> Callable[[int], Said]:
    """A job that cannot do the fourth thing."""

    def job(thing: int) -> Said:
        if thing == 4:
            raise ValueError("four")
        return "done", thing, os.getpid()

    return job


@pytest.mark.parametrize("cores", [1, 2])
def test_what_a_job_raises_is_raised_here(cores: int) -> None:
    with pytest.raises(ValueError, match="four"):
        list(in_order(raising, range(20), cores, lost=lost))


def test_one_thing_may_be_done_apart() -> None:
    ((_, _, process),) = in_order(done_by, [5], 1, lost=lost, apart=True)
    assert process != os.getpid()
    assert list(in_order(done_by, [], 1, lost=lost, apart=True)) == []


def test_the_first_thing_may_be_the_one_that_dies() -> None:
    results = list(in_order(deadly, [6, 7], 2, lost=lost))
    assert results[0] == ("lost", 6, 0)
    assert results[1][:2] == ("done", 7)


class Counted(Sequence[int]):
    """Numbers that note how many of them were taken."""

    def __init__(self, count: int) -> None:
        self.count, self.taken = count, 0

    def __len__(self) -> int:
        return self.count

    def __getitem__(self, number: int) -> int:  # type: ignore[override]
        return range(self.count)[number]

    def __iter__(self) -> Iterator[int]:
        for number in range(self.count):
            self.taken = number + 1
            yield number


@pytest.mark.parametrize("cores", [1, 2])
def test_no_more_than_a_few_things_are_taken_ahead(cores: int) -> None:
    """Memory does not grow with the number of things, however slowly their results are taken."""
    things, most = Counted(60), 0
    for number, _ in enumerate(in_order(done_by, things, cores, lost=lost), 1):
        if number < 3:
            time.sleep(0.1)
        most = max(most, things.taken - number)
    assert things.taken == 60
    assert most <= (AHEAD * cores if cores > 1 else 0)


def test_whoever_has_had_enough_may_stop() -> None:
    things = Counted(60)
    results = in_order(done_by, things, 2, lost=lost)
    assert next(results)[:2] == ("done", 0)
    results.close()  # type: ignore[attr-defined]
    assert things.taken <= 2 * AHEAD + 1
