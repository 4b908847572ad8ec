"""The time limit on code that is not ours."""

from __future__ import annotations

import contextlib
import signal
import sys
import threading
import time
from collections.abc import Callable

import pytest

from swaplint.host.watch import TookTooLong, many_limits, time_limit


def spin() -> None:
    while True:
        pass


def sleep() -> None:
    time.sleep(60)


def swallow_once() -> None:
    for _ in range(2):
        with contextlib.suppress(BaseException):
            spin()
    spin()


def swallow_exceptions() -> None:
    while True:
        with contextlib.suppress(Exception):
            spin()


@pytest.mark.parametrize("code", [spin, sleep, swallow_once, swallow_exceptions])
def test_code_that_runs_too_long_is_stopped(code: Callable[[], None]) -> None:
    started = time.monotonic()
    with pytest.raises(TookTooLong), time_limit(0.1):
        code()
    assert time.monotonic() - started < 5.0


def test_code_that_hardly_got_to_run_is_given_more_time() -> None:
    """A sleep stands for a machine that others hold; the timer goes off in the middle of it, at 0.2 s."""
    with time_limit(0.2):
        time.sleep(0.35)


def test_what_ends_in_time_is_left_alone() -> None:
    with time_limit(5.0):
        answer = 42
    assert answer == 42
    assert signal.getitimer(signal.ITIMER_REAL) == (0.0, 0.0)


@pytest.mark.parametrize(
    "error", [ValueError("x"), StopIteration(), GeneratorExit(), SystemExit(3), KeyboardInterrupt()]
)
def test_errors_pass_through(error: BaseException) -> None:
    with pytest.raises(type(error)) as caught, time_limit(5.0):
        raise error
    assert caught.value is error
    assert signal.getitimer(signal.ITIMER_REAL) == (0.0, 0.0)


def test_the_handler_from_before_is_put_back() -> None:
    def own(signum: int, frame: object) -> None:
        raise AssertionError

    before = signal.signal(signal.SIGALRM, own)
    try:
        with time_limit(5.0):
            pass
        with pytest.raises(TookTooLong), time_limit(0.05):
            spin()
        assert signal.getsignal(signal.SIGALRM) is own
    finally:
        signal.signal(signal.SIGALRM, before)


def test_nothing_is_interrupted_once_the_block_has_ended() -> None:
    """The timer goes off again and again; none of its signals may reach the code behind the block."""
    for _ in range(200):
        with contextlib.suppress(TookTooLong), time_limit(0.0005):
            spin()
    ended = time.monotonic() + 0.3
    while time.monotonic() < ended:
        pass


def test_a_limit_in_a_thread_reaches_python_code() -> None:
    outcome: list[str] = []

    def run() -> None:
        try:
            with time_limit(0.1):
                spin()
        except TookTooLong:
            outcome.append("stopped")
        with time_limit(5.0):
            outcome.append("in time")

    thread = threading.Thread(target=run)
    thread.start()
    thread.join(10)
    assert outcome == ["stopped", "in time"]


def test_what_is_printed_goes_to_standard_error(capsys: pytest.CaptureFixture[str]) -> None:
    def chatter() -> None:
        print("chatter")
        raise ValueError("x")

    with pytest.raises(ValueError, match="x"), time_limit(5.0):
        chatter()
    print("report")
    captured = capsys.readouterr()
    assert captured.out == "report\n"
    assert captured.err == "chatter\n"
    assert sys.stdout is not sys.stderr


@pytest.mark.parametrize("code", [spin, sleep, swallow_once])
def test_among_many_blocks_the_one_that_runs_too_long_is_stopped(code: Callable[[], None]) -> None:
    stopped = []
    with many_limits():
        for number in range(5):
            try:
                with time_limit(0.1):
                    if number == 3:
                        code()
            except TookTooLong:
                stopped.append(number)
        ended = time.monotonic() + 0.3
        while time.monotonic() < ended:
            pass  # what stands between the blocks is nobody's to stop
    assert stopped == [3]
    assert signal.getitimer(signal.ITIMER_REAL) == (0.0, 0.0)


def test_each_of_many_blocks_has_its_own_time() -> None:
    with many_limits():
        for _ in range(4):
            with time_limit(0.3):
                ended = time.monotonic() + 0.15
                while time.monotonic() < ended:
                    pass


def test_a_block_within_a_block_has_its_own_limit() -> None:
    with time_limit(5.0):
        with pytest.raises(TookTooLong), time_limit(0.1):
            spin()
        with many_limits(), pytest.raises(TookTooLong), time_limit(0.1):
            spin()

    def spin_after_a_block() -> None:
        with time_limit(5.0):
            pass
        spin()

    with pytest.raises(TookTooLong), time_limit(0.3):
        spin_after_a_block()


def test_a_block_in_a_thread_is_no_business_of_the_main_thread() -> None:
    started, ended = threading.Event(), threading.Event()

    def run() -> None:
        with contextlib.suppress(TookTooLong), time_limit(0.1):
            started.set()
            ended.wait(1.0)

    thread = threading.Thread(target=run)
    with many_limits():
        thread.start()
        started.wait()
        until = time.monotonic() + 0.5
        while time.monotonic() < until:
            pass  # nobody limits the main thread here
        ended.set()
        thread.join(10)
    assert not thread.is_alive()


def test_built_in_code_is_stopped_for_what_it_works_and_not_for_what_it_waits() -> None:
    """A machine that others hold is no fault of a rule: it is no result that is missing."""
    with time_limit(0.05, own=True):
        time.sleep(0.4)  # longer than other code is given that has hardly run
    started = time.monotonic()
    with pytest.raises(TookTooLong), time_limit(0.05, own=True):
        spin()
    assert time.monotonic() - started < 5.0
    with pytest.raises(TookTooLong), time_limit(0.02, own=True):
        sleep()
