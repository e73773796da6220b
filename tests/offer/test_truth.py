"""No sentence of a made offer is false: odd prices, known cases, lists of all sizes, two options or three.

`python -m tests.bench.truth` tries two thousand.
"""

from __future__ import annotations

import pytest

from tests.truth import made, untrue


@pytest.mark.parametrize("seed", range(24))
def test_nothing_that_the_sheets_say_is_contradicted_by_the_offer(seed: int) -> None:
    """Claims, headlines and sums agree with the figures and the endings of the same offer."""
    assert untrue(made(seed)) == []
