"""Packs that do what no pack should: each costs only itself, whatever it does, and nothing is silent.

The hard ones, which take their time, are run by `tests/bench/attacks.py`; here is one of each kind.
"""

from __future__ import annotations

import json
import os
import subprocess
import sys
import textwrap
import time
from pathlib import Path
from typing import Any

import pytest

sys.path.insert(0, str(Path(__file__).parents[1] / "bench"))
from attack_packs import CHANGES_WHAT_IS_NOT_ITS_OWN, ENDS_THE_PROCESS, HARMLESS, HEAD, NEVER_ENDS

SPEC = "engine.cylinders = 4\n"
QUICK = """
import sys
import swaplint.host.signs as signs
from swaplint.inspecting.running import run_rule
signs.GRACE = 0.2
run_rule.__kwdefaults__["seconds"] = 0.3
from swaplint.cli import command
sys.exit(command())
"""
"""The command with a short patience: what is tried is who stops the code, not how long it is given."""
ALONE = (
    """
import functools
import swaplint.cli.reading as reading
reading.load_rule_base = functools.partial(reading.load_rule_base, installed=False)
"""
    + QUICK
)
"""The same without the installed packs, where the matter is the pack alone: loading them is a third of a call."""
NO_COPIES = """
import os, signal
for holder, names in ((os, ("fork", "waitid")), (signal, ("setitimer", "getitimer", "SIGALRM", "pthread_sigmask"))):
    for name in names:
        if hasattr(holder, name):
            delattr(holder, name)
"""
"""Takes away what one system or another does not have."""


OWN = ("--system", "fit", "--system", "supply")
"""The systems that the rules of the packs belong to."""


class Ran:
    """What came of a call."""

    def __init__(self, done: subprocess.CompletedProcess[bytes]) -> None:
        self.status, self.out, self.err = done.returncode, done.stdout.decode(), done.stderr.decode()

    @property
    def data(self) -> Any:
        """Its JSON."""
        return json.loads(self.out)

    @property
    def kinds(self) -> dict[str, str]:
        """The results of the pack's rules, by id."""
        results = self.data["specs"][0]["results"]
        return {result["rule"]: result["kind"] for result in results if ".acme-" in result["rule"]}

    @property
    def problems(self) -> list[str]:
        """What went wrong."""
        return [problem["what"] for problem in self.data["problems"]]


@pytest.fixture
def run(tmp_path: Path) -> Any:
    (tmp_path / "s.toml").write_text(SPEC)

    def run(
        pack: str, *arguments: str, code: str = ALONE, stdin: bytes | None = None, path: str = "", whole: bool = False
    ) -> Ran:
        (tmp_path / "acme.py").write_text(pack if whole else HEAD + textwrap.dedent(pack))
        arguments = arguments or ("inspect", "s.toml", "--format", "json", "--gate", "never", *OWN)
        done = subprocess.run(
            [sys.executable, "-c", code, *arguments, "--pack", "acme.py"],
            cwd=tmp_path,
            capture_output=True,
            input=stdin,
            timeout=60,
            check=False,
            env={**os.environ, "PYTHONPATH": path},
        )
        return Ran(done)

    return run


def test_a_rule_that_ends_the_process_costs_its_own_results(run: Any) -> None:
    ran = run(ENDS_THE_PROCESS["rule: _exit(0)"].body, code=QUICK)
    assert ran.status == 3
    assert ran.kinds == {"supply.acme-sound": "pass"}
    assert len(ran.data["specs"][0]["results"]) > 10, "the installed packs' stand there, too"
    assert ran.problems == ["the rule ended its process, with exit status 0; its results for s.toml are missing"]
    gate = ran.data["specs"][0]["gate"]
    assert (gate["open"], gate["not_run"], gate["packs_missing"]) == (False, ["fit.acme-odd"], [])
    assert "Traceback" not in ran.err


def test_a_pack_that_ends_the_process_when_it_is_imported_is_left_out(run: Any) -> None:
    ran = run(ENDS_THE_PROCESS["import: segmentation fault"].body, code=QUICK)
    assert ran.status == 3
    assert ran.kinds == {}
    assert ran.problems == [
        "the pack ended its process, by the signal SIGSEGV, while it was loaded; it is left out; "
        "its results are missing"
    ]
    gate = ran.data["specs"][0]["gate"]
    assert (gate["open"], gate["packs_missing"]) == (False, ["acme.py"])


@pytest.mark.parametrize("name", ["rule: sums for ever", "rule: ignores the alarm", "rule: stops itself"])
def test_code_that_cannot_be_interrupted_is_stopped_from_outside(name: str, run: Any) -> None:
    pack = {**NEVER_ENDS, **ENDS_THE_PROCESS}[name]
    started = time.monotonic()
    ran = run(pack.body)
    assert time.monotonic() - started < 40
    assert ran.status == 3
    assert ran.kinds == {"supply.acme-sound": "pass"}
    assert "ran longer than 0.3 s, could not be interrupted, and was stopped with its process" in ran.problems[0]
    assert not ran.data["specs"][0]["gate"]["open"]


def test_words_of_an_exception_that_end_the_process_are_left_out(run: Any) -> None:
    ran = run(NEVER_ENDS["rule: the words of its exception end it"].body)
    assert ran.status == 3
    assert ran.problems == ["the rule raised Odd; its results for s.toml are missing"]


@pytest.mark.parametrize(
    ("name", "what"),
    [
        ("rule: math.sqrt", "the rule changed math.sqrt"),
        ("rule: the folder", "the rule changed the current folder"),
        ("rule: the view", "the rule changed View.touches"),
        ("import: the recursion limit", "the pack changed the recursion limit"),
    ],
)
def test_what_code_changes_that_is_not_its_own_is_put_back_and_told(name: str, what: str, run: Any) -> None:
    ran = run(CHANGES_WHAT_IS_NOT_ITS_OWN[name].body)
    assert ran.status == 3
    (problem,) = ran.problems
    assert problem.startswith(f"{what}, which is not its own and was put back")
    assert ran.kinds["supply.acme-sound"] == "pass"


def test_what_a_pack_writes_anywhere_is_not_in_the_report(run: Any) -> None:
    body = "\n".join(
        HARMLESS[name].body.replace("odd", f"odd_{n}")
        for n, name in enumerate(("writes to the raw handle", "a process that prints", "a copy of the process"))
    )
    ran = run(body + textwrap.dedent(HARMLESS["a thread that prints"].body))
    assert ran.status == 0
    assert ran.problems == []
    assert set(ran.kinds.values()) == {"pass"}
    assert "raw" in ran.err
    assert "chatter" in ran.err


def test_nothing_of_a_pack_is_left_running(run: Any, tmp_path: Path) -> None:
    ran = run(
        """
        @add
        def odd(build):
            threading.Thread(target=time.sleep, args=(600,)).start()
            child = subprocess.Popen(["sleep", "600"], stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
            with open("number", "w") as file:
                file.write(str(child.pid))
            return holds(True)
        """
    )
    assert ran.status == 0
    number = int((tmp_path / "number").read_text())
    until = time.monotonic() + 10
    while _is_there(number) and time.monotonic() < until:
        time.sleep(0.05)
    assert not _is_there(number)


def _is_there(number: int) -> bool:
    try:
        return Path(f"/proc/{number}/stat").read_text().rpartition(")")[2].split()[0] != "Z"
    except OSError:
        return False


def test_the_command_is_stopped_with_the_process_that_it_watches_over(run: Any, tmp_path: Path) -> None:
    (tmp_path / "acme.py").write_text(
        HEAD + "open('number', 'w').write(str(os.getpid()))\nos.rename('number', 'there')\ntime.sleep(600)\n"
    )
    command = [sys.executable, "-c", QUICK, "inspect", "s.toml", "--pack", "acme.py"]
    with subprocess.Popen(command, cwd=tmp_path, stderr=subprocess.PIPE, stdout=subprocess.PIPE) as begun:
        until = time.monotonic() + 30
        while not (tmp_path / "there").exists() and time.monotonic() < until:
            time.sleep(0.02)
        begun.terminate()
        out, err = begun.communicate(timeout=20)
    assert (begun.returncode, out, err) == (143, b"", b"swaplint: stopped.\n")
    number, until = int((tmp_path / "there").read_text()), time.monotonic() + 5
    while _is_there(number) and time.monotonic() < until:
        time.sleep(0.02)  # it was told to end before the command ended, and a busy machine takes its time
    assert not _is_there(number)


def test_each_spec_of_a_call_has_what_it_has_alone(run: Any, tmp_path: Path) -> None:
    for name, cylinders in (("a", 4), ("b", 6), ("c", 4)):
        (tmp_path / f"{name}.toml").write_text(f"engine.cylinders = {cylinders}\n")
    pack = """
    @add
    def odd(build):
        if build.engine.cylinders == 6:
            os._exit(0)
        return holds(True)
    """
    options = ("--format", "json", "--gate", "never", *OWN)
    together = run(pack, "inspect", "a.toml", "b.toml", "c.toml", *options)
    assert together.status == 3
    assert [spec["gate"]["not_run"] for spec in together.data["specs"]] == [[], ["fit.acme-odd"], []]
    assert together.problems == ["the rule ended its process, with exit status 0; its results for b.toml are missing"]
    assert together.data["specs"][1] == run(pack, "inspect", "b.toml", *options).data["specs"][0]


def test_lines_that_are_out_are_not_written_again(run: Any, tmp_path: Path) -> None:
    """The lines of two specs stand when a thread of the pack ends the process while the third is inspected."""
    for name in "abc":
        (tmp_path / f"{name}.toml").write_text(SPEC)
    pack = """
    from swaplint.host import streams
    first, lines = os.getpid(), []
    before = streams.let_go
    def let_go(**more):
        lines.append(before(**more))
        if len(lines) == 2 and os.getpid() == first:
            time.sleep(0.2)
            os._exit(0)
    import swaplint.cli.inspect
    swaplint.cli.inspect.let_go = let_go
    """
    unwatched = "import swaplint.host.manners as m\nm.MODULES.begin = lambda: None\n" + QUICK
    ran = run(pack, "inspect", "a.toml", "b.toml", "c.toml", "--format", "jsonl", "--system", "supply", code=unwatched)
    assert ran.status == 3
    lines = [json.loads(line) for line in ran.out.splitlines()]
    assert [line.get("spec") for line in lines] == ["a.toml", "b.toml", "c.toml", None]
    assert [problem["pack"] for problem in lines[-1]["problems"]] == ["acme.py"]
    assert "cannot be told" in lines[-1]["problems"][0]["what"]


def test_it_works_where_no_process_can_be_copied_and_there_is_no_alarm(run: Any, tmp_path: Path) -> None:
    (tmp_path / "sitecustomize.py").write_text(NO_COPIES)
    ran = run(ENDS_THE_PROCESS["rule: _exit(0)"].body, path=str(tmp_path))
    assert ran.status == 3
    assert ran.kinds == {"supply.acme-sound": "pass"}
    assert ran.problems == ["the rule ended its process, with exit status 0; its results for s.toml are missing"]
    fine = run(HARMLESS["writes to the raw handle"].body, path=str(tmp_path))
    assert (fine.status, fine.problems) == (0, [])
    hangs = """
    @add
    def odd(build):
        sum(iter(int, 1))
    """
    ran = run(hangs, path=str(tmp_path))
    assert ran.status == 3
    assert ran.kinds == {"supply.acme-sound": "pass"}
    assert len(ran.problems) == 1


def test_a_spec_from_standard_input_is_for_the_command_alone(run: Any) -> None:
    pack = """
    first = sys.stdin.read()
    @add
    def odd(build):
        return holds(not first and not os.read(0, 9) and build.engine.cylinders == 4)
    """
    ran = run(pack, "inspect", "-", "--format", "json", "--rule", "fit.acme-odd", stdin=SPEC.encode())
    assert (ran.status, ran.kinds) == (0, {"fit.acme-odd": "pass"})


def test_help_and_mistakes_are_said_as_ever(run: Any) -> None:
    helped = run("", "inspect", "--help")
    assert helped.status == 0
    assert helped.out.startswith("usage: swaplint inspect")
    wrong = run("", "inspect", "s.toml", "--format", "yaml")
    assert (wrong.status, wrong.out) == (2, "")
    assert "did you mean" in wrong.err or "is not one of" in wrong.err


@pytest.mark.parametrize(
    "arguments",
    [
        ("size", "s.toml", "plumbing.fuel.supply.bore", "--system", "fit", "--format", "json"),
        ("study", "s.toml", "--vary", "engine.cylinders=4,6,8", "--system", "fit", "--format", "json"),
        ("draft", "-", "--system", "fit"),
    ],
)
def test_other_commands_say_too_what_did_not_come_to_an_end(arguments: tuple[str, ...], run: Any) -> None:
    pack = """
    @add
    def odd(build):
        if build.engine.cylinders:
            sum(itertools.repeat(0))
        return holds(True)
    """
    ran = run(pack, *arguments, code=QUICK)
    assert ran.status == 3
    assert "rule fit.acme-odd" in ran.err
    assert "could not be interrupted" in ran.err
    assert ran.out


def test_a_rule_that_hangs_on_other_values_is_set_aside_and_named(run: Any) -> None:
    pack = """
    calls = []
    def odd(build):
        calls.append(0)
        if build.engine.cylinders != 4.0:
            print("hung", file=sys.stderr)
            while True: pass
        return at_most(build.engine.cylinders, 2.0)
    RULES.append(made("fit.acme-odd", odd, level="error", adjust=["engine.cylinders"]))
    """
    ran = run(pack, "inspect", "s.toml", "--format", "json", "--rule", "fit.acme-odd")
    if "adjust" in str(ran.problems):  # the builder does not choose it
        pytest.fail(str(ran.problems))
    assert ran.status == 3
    assert ran.err.count("hung") == 1
    assert ran.kinds == {"fit.acme-odd": "fail"}
    assert ran.problems == [
        "the rule ran longer than 0.3 s and was stopped when other values than the stated ones were tried; "
        "nobody knows what it makes of them"
    ]
