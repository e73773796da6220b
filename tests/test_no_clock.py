"""No test reads a clock, since a busy machine would fail it: what is measured is measured in tests/bench/."""

from __future__ import annotations

import ast
from pathlib import Path

import pytest

HERE = Path(__file__).parent
FILES = sorted(path for path in HERE.rglob("*.py") if path.parent != HERE / "bench")
CLOCKS = {"time": {"time", "time_ns", "monotonic", "monotonic_ns", "perf_counter", "perf_counter_ns", "process_time",
                   "process_time_ns", "thread_time", "thread_time_ns", "clock_gettime", "clock_gettime_ns", "gmtime",
                   "localtime", "ctime"},
          "timeit": {"timeit", "repeat", "default_timer", "Timer"}, "os": {"times"}, "resource": {"getrusage"},
          "datetime": {"now", "utcnow", "today"}, "date": {"today"}}
"""Names that read a clock, by the module or class that has them."""


def clocks(text: str) -> list[str]:
    """What reads a clock in the text of a file."""
    found = []
    for node in ast.walk(ast.parse(text)):
        if isinstance(node, ast.ImportFrom):
            found += [alias.name for alias in node.names if alias.name in CLOCKS.get(node.module or "", ())]
        if isinstance(node, ast.Attribute):
            owner = node.value.id if isinstance(node.value, ast.Name) else getattr(node.value, "attr", "")
            found += [f"{owner}.{node.attr}"] if node.attr in CLOCKS.get(owner, ()) else []
    return found


def test_no_test_reads_a_clock() -> None:
    """No file of the tests but the benches asks what time it is or how long something took."""
    assert {path.relative_to(HERE).as_posix() for path in FILES if clocks(path.read_text("utf-8"))} == set()


@pytest.mark.parametrize("text", ["import time\ntime.perf_counter()", "from time import monotonic", "import timeit\n"
                                  "timeit.timeit('1')", "from datetime import date\ndate.today()", "import datetime\n"
                                  "datetime.datetime.now()"])
def test_a_clock_would_be_seen(text: str) -> None:
    """Each way of asking is found."""
    assert clocks(text)
