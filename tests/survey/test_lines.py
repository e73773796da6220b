"""Points line by line as the survey left them: which are old, which are newer, which nobody saw."""

from __future__ import annotations

import pytest

from sitegen.survey.lines import Line


def line(evidence: str, now: int, listed: int = 0, old: int = 0, new: int = 0) -> Line:
    """One kind of point in one room, all of it wanted in the end."""
    return Line("Hall", "outlet", "front", evidence, now, now, listed, old, new)


@pytest.mark.parametrize(("evidence", "old", "newer", "not_seen"), [
    ("old", 4, 1, 0), ("part", 1, 1, 3)])
def test_each_point_is_old_or_newer_or_not_seen(evidence: str, old: int, newer: int, not_seen: int) -> None:
    """Five points, one opened old and one new: on a feed traced old the rest is old, on a part feed nobody saw it."""
    one = line(evidence, 5, old=1, new=1)
    assert (one.old, one.newer, one.now - one.old - one.newer) == (old, newer, not_seen)


def test_what_was_replaced_on_an_old_feed_is_off_the_list_and_not_hidden() -> None:
    """Traced old, one of five replaced and two listed: the two that are left are hidden on no list."""
    one = line("old", 5, listed=2, new=1)
    assert (one.old, one.newer, one.known, one.unseen) == (4, 1, 0, 2)
    assert line("old", 5, listed=5, new=1).unseen == 0
