"""What the run over small changes makes of a module, and which tests it runs for one."""

from __future__ import annotations

import ast

import pytest

from tests.bench.mutations import mutated, mutations
from tests.bench.reach import Reach
from tests.helpers import ROOT

CASES = {
    "a < b": ["a <= b"],
    "a <= b < 3": ["a < b < 3", "a <= b <= 3", "4", "2"],
    "a and (not b)": ["a or not b", "b"],
    "a + 20": ["a - 20", "21", "19", "60"],
    "a * 60": ["a / 60", "61", "59", "100", "20"],
    "f'{a}' + b": [],
    "min(a, b)": ["max(a, b)"],
    "sum(a) // 2": ["sum(a) * 2", "sum(a) + 1", "3", "1"],
    "a[b:]": ["b + 1:"],
    "f(x=a, y=b)": ["f(x=b, y=a)"],
    "f(x=a, y=a)": [],
    "Range(low, high)": ["Range(high, low)"],
    "f(low, high)": [],
    "{'floor': a, 'wall': b}": ["'wall'", "'floor'"],
    "a if b else c": ["True", "False"],
    "[a for a in b if a]": ["True", "False"],
    "f'{a + b} or 3 more'": ["a - b"],
    "Literal['one', 'two']": [],
}
"""An expression -> what stands in its place, or in that of a part of it."""

LEFT_ALONE = '''
"""A module of 2 rooms."""
__all__ = ["rooms"]
@cache(maxsize=4)
def rooms(a: Array[3]) -> Array[4]:
    """Rooms of 3 kinds."""
    assert a is not None
    raise Fault("there are more than 4", 5)
'''


@pytest.mark.parametrize("source", CASES)
def test_each_change_is_one_that_a_test_should_see(source: str) -> None:
    """Each part of an expression is changed in the ways listed, and in no other."""
    assert [change.now for change in mutations(source)] == CASES[source]


def test_a_change_is_made_once_and_the_rest_stands() -> None:
    """The module with one change differs from the module as it is in that place alone."""
    source = "def f(a, b):\n    return (a, b) if a < b else (b, a)\n"
    made = [mutated(source, change.number).splitlines()[1].strip() for change in mutations(source)]
    assert made == ["return (a, b) if a <= b else (b, a)", "return (a, b) if True else (b, a)",
                    "return (a, b) if False else (b, a)"]
    assert len({mutated(source, change.number) for change in mutations(source)}) == len(mutations(source))
    with pytest.raises(IndexError):
        mutated(source, len(made))


def test_what_no_test_could_notice_is_left_alone() -> None:
    """Words for people, types, decorators and errors are not changed."""
    assert mutations(LEFT_ALONE) == ()
    ast.parse(LEFT_ALONE)


def test_tests_of_a_module_run_before_those_that_reach_it_through_others() -> None:
    """The mirror of a module and what imports it come first; then what it reaches, the golden text among it."""
    tests = ["tests/trade/test_box_fill.py", "tests/published/test_published_box_fill.py",
             "tests/golden/test_golden.py", "tests/sheets/test_plans.py", "tests/dates/test_payments.py"]
    near, far = Reach(ROOT, tests).stages("sitegen/trade/box_fill.py")
    assert near == tests[:2]
    assert far == ["tests/golden/test_golden.py"]
