"""Sealing and opening again: what was sealed comes back to the byte, and nothing that was changed does."""

from __future__ import annotations

import base64
import json
from collections.abc import Callable
from pathlib import Path

import pytest
from msgspec.structs import replace

from sitegen.errors import BuildError
from sitegen.sealing.bundle import STEP, Bundle, outside
from sitegen.sealing.link import draw
from sitegen.sealing.seal import Sealed, digest, seal, unseal
from tests.sealing.made import small_bundle

KEY = "abcdefghijkmnpqrstuvwxyz23"


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> Bundle:
    """A small bundle of three parts."""
    return small_bundle(tmp_path_factory.mktemp("small") / "site")


def test_what_was_sealed_comes_back(made: Bundle) -> None:
    """Every part opens to the bytes that were sealed."""
    assert unseal(seal(made, KEY, "small", 1), KEY) == tuple(part.data for part in made.parts)


def test_a_bundle_is_repeatable_and_sealing_is_not(made: Bundle, tmp_path: Path) -> None:
    """The same pages give the same fingerprint in another folder, and no two sealings share a salt or a part."""
    assert small_bundle(tmp_path / "elsewhere").fingerprint == made.fingerprint
    assert small_bundle(tmp_path / "elsewhere", "Another word").fingerprint != made.fingerprint
    one, two = seal(made, KEY, "small", 1), seal(made, KEY, "small", 1)
    assert one.salt != two.salt
    assert not set(one.parts) & set(two.parts)


def test_a_size_tells_no_more_than_its_padding(made: Bundle) -> None:
    """Every part is a whole number of steps and has no spare bits that could be changed unseen."""
    for part in seal(made, KEY, "small", 1).parts:
        assert len(base64.b64decode(part, validate=True)) % STEP == 0
        assert not part.endswith("=")


@pytest.mark.parametrize("place", [0, 1, 2])
def test_a_changed_byte_opens_nothing(made: Bundle, place: int) -> None:
    """Any sign of a part that is put in the place of another refuses the whole: a hundred of each part were tried."""
    sealed = seal(made, KEY, "small", 1)
    part = sealed.parts[place]
    for at in range(0, len(part), max(1, len(part) // 100)):
        other = "B" if part[at] != "B" else "C"
        parts = [*sealed.parts]
        parts[place] = part[:at] + other + part[at + 1:]
        with pytest.raises(BuildError, match="were changed"):
            unseal(replace(sealed, parts=tuple(parts)), KEY)
        assert digest(sealed.salt, sealed.bind, tuple(parts)) != sealed.sum


def _from(other: Sealed) -> Callable[[Sealed], Sealed]:
    return lambda sealed: replace(sealed, parts=(sealed.parts[0], other.parts[1], sealed.parts[2]))


def _opens(sealed: Sealed) -> bool:
    try:
        unseal(sealed, KEY)
    except BuildError:
        return False
    return True


def test_no_part_takes_the_place_of_another(made: Bundle) -> None:
    """Two parts changed round, a part of another version, of another job, of another sealing, or one part fewer."""
    sealed = seal(made, KEY, "small", 1)
    changes: dict[str, Sealed] = {
        "changed round": replace(sealed, parts=(sealed.parts[1], sealed.parts[0], sealed.parts[2])),
        "another version": _from(seal(made, KEY, "small", 2))(sealed),
        "another job": _from(seal(made, KEY, "other", 1))(sealed),
        "another sealing": _from(seal(made, KEY, "small", 1))(sealed),
        "one fewer": replace(sealed, parts=sealed.parts[:2]),
        "bound to another": replace(sealed, bind=seal(made, KEY, "other", 1).bind),
        "with another salt": replace(sealed, salt=seal(made, KEY, "small", 1).salt)}
    opened = [name for name, changed in changes.items() if _opens(changed)]
    assert opened == []


def test_another_key_opens_nothing(made: Bundle) -> None:
    """A key of the right form that was not drawn for this publication is refused."""
    with pytest.raises(BuildError):
        unseal(seal(made, KEY, "small", 1), draw())


def test_what_is_sealed_asks_for_no_file(made: Bundle) -> None:
    """Pages name photographs by their part, drop the second format of each, and lose the names of figures."""
    first, rest = (json.loads(made.parts[i].data) for i in (0, 1))
    bodies = [first["body"] + rest["folds"] + rest["foot"], *(body for _, body in rest["pages"].values())]
    assert [list(outside(body)) for body in bodies] == [[], []]
    assert 'data-part="2"' in bodies[1]
    assert [part.compress for part in made.parts] == [True, True, False]


def test_the_first_part_holds_what_stands_open(made: Bundle) -> None:
    """The first page's folds and foot follow with the other pages, and nothing of it is lost or doubled."""
    first, rest = (json.loads(made.parts[i].data) for i in (0, 1))
    assert "More" not in first["body"]
    whole = first["body"].replace("</main>", rest["folds"] + "</main>" + rest["foot"])
    assert [whole.count(word) for word in ("Start here", "Deep", "</main>", "</footer>")] == [1, 1, 1, 1]
