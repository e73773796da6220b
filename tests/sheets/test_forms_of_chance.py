"""The four forms in which a chance may be spoken."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from jinja2 import Environment
from msgspec.structs import replace

from sitegen.figure import Figure, Quote, Source
from sitegen.offer.chances import Counted, chance
from sitegen.sheets.cache import Cache
from sitegen.sheets.theme import environment
from sitegen.sheets.words import Words
from sitegen.workspace import resource

SOURCE = Source("finished jobs", "company.yaml line 1")
COUNTED = Counted(Figure("record.above", 61, "number", "Counted.", SOURCE),
                  Figure("record.jobs", 84, "number", "Counted.", SOURCE), Quote("all finished since March.", SOURCE))


@pytest.fixture
def env(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Environment:
    """The template environment over our own words."""
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path))
    cache = Cache()
    return environment((tmp_path,), Words((resource("content"),), cache), cache)


def said(env: Environment, value: object) -> str:
    """How a chance reads, without its tags."""
    return re.sub(r"<[^>]+>", "", env.from_string("{{ value|chance }}").render(value=value))


def test_a_count_of_many_jobs_is_said_raw(env: Environment) -> None:
    """From fifty finished jobs on the raw count stands over the raw total, never rescaled, with which jobs."""
    assert said(env, COUNTED) == ("In 61 of 84 jobs that we finished, Per item would have ended above One price. "
                                  "These jobs are: all finished since March.")


def test_a_count_of_few_jobs_says_so(env: Environment) -> None:
    """Under fifty the same, and that it is too few to lean on."""
    few = replace(COUNTED, jobs=replace(COUNTED.jobs, value=49), above=replace(COUNTED.above, value=30))
    assert said(env, few).endswith(" So few jobs are too few to lean on.")
    assert not COUNTED.few


def test_a_judgement_gives_three_views(env: Environment) -> None:
    """A judgement is called one, in twentieths, with half and twice as many old circuits in the same breath."""
    judged = chance("a.chance", (0.61, 0.52, 0.74), "Judged.", Source("judgement", "somebody, some day"))
    assert said(env, judged).replace("&nbsp;", " ") == (
        "This is our judgment, not a count: about 12 of 20 chances. If half as many circuits are old as we judge, it "
        "is 10 of 20. If twice as many are, it is 15 of 20.")


def test_what_nobody_knows_is_said_to_be_unknown(env: Environment) -> None:
    """Without a count and without a judgement nothing is claimed."""
    assert said(env, None) == "We do not know. The answer depends on what is in the walls."
