"""Publications of older formats, as they were written and stored: they open for ever."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from sitegen.sealing.seal import FORMAT, unseal
from tests.sealing.test_publish import sealed_in
from tests.sealing.test_seal import KEY

STORED = Path(__file__).parent / "stored"


def test_every_format_so_far_is_stored() -> None:
    """One stored publication stands for each version of the sealed format."""
    assert sorted(path.name for path in STORED.iterdir()) == [f"format-{n}.html" for n in range(1, FORMAT + 1)]


@pytest.mark.parametrize("path", sorted(STORED.iterdir()), ids=lambda path: path.stem)
def test_a_stored_publication_opens(path: Path) -> None:
    """Its parts come back to the pages that were sealed in it, and the photograph to the byte."""
    first, rest, photograph = unseal(sealed_in(path.read_text("utf-8")), KEY)
    assert json.loads(first)["title"] == "Start"
    assert json.loads(rest)["pages"]["report"][0] == "Report"
    assert photograph == b"RIFF" + bytes(range(256))
