"""What moves the middle cost: each change against the same job with that number changed in its files."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction
from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

import pytest
import yaml

from sitegen.build import context_of
from sitegen.job.load import load
from sitegen.offer.context import Context
from sitegen.office.moves import CHANGES, moves
from sitegen.survey.rule_sets import rule_set
from tests.helpers import DEMO, JOB, demo_copy, edit

Files = dict[str, Any]


def cents(text: str) -> str:
    """A tenth more than an amount as it is written, to the cent, halves upward."""
    more = (int(Fraction(text.lstrip("$").replace(",", "")) * 100) * 11 + 5) // 10
    return f"${more // 100}.{more % 100:02}"


def part(text: str) -> str:
    """A tenth more than a share as it is written."""
    more = Fraction(text) * Fraction(11, 10)
    return f"{more.numerator}/{more.denominator}"


def slower(*names: str) -> Callable[[Files], None]:
    """Hours of these parts of the cost book a tenth longer."""
    def change(files: Files) -> None:
        for name in names:
            files["cost-book"][name]["hours"] = part(files["cost-book"][name]["hours"])
    return change


def labour(files: Files) -> None:
    """An hour a tenth dearer."""
    files["cost-book"]["labour an hour"] = cents(files["cost-book"]["labour an hour"])


def points(files: Files) -> None:
    """Each kind of point a tenth slower."""
    for cost in files["cost-book"]["points"].values():
        cost["hours"] = part(cost["hours"])


def material(files: Files) -> None:
    """All material a tenth dearer."""
    book = files["cost-book"]
    for cost in (*book["points"].values(), *(one for one in book.values() if isinstance(one, dict))):
        if "material" in cost:
            cost["material"] = cents(cost["material"])


def permit(files: Files) -> None:
    """The permit a tenth dearer."""
    files["towns/pellam-ford"]["permit price"] = cents(files["towns/pellam-ford"]["permit price"])


def blocked(files: Files) -> None:
    """A tenth more blocked drops in the judgement."""
    files["company"]["prior"]["blocked drops"] = part(files["company"]["prior"]["blocked drops"])


def old_feeds(files: Files) -> None:
    """A tenth more old feeds in the judgement."""
    files["company"]["prior"]["old feeds"] = part(files["company"]["prior"]["old feeds"])


def dearer_cases(files: Files) -> None:
    """Each case a tenth dearer."""
    for case in files["price-book"]["cases"]:
        case.update({key: cents(case[key]) for key in ("low", "usual", "high")})


def likelier_cases(files: Files) -> None:
    """Each case a tenth likelier."""
    for case in files["price-book"]["cases"]:
        found, of = case["chance"].split(" of ")
        case["chance"] = f"{int(found) * 11} of {int(of) * 10}"


WRITTEN: dict[str, Callable[[Files], None]] = {
    "Labor an hour": labour, "Hours of a point": points, "Hours of a drop": slower("drop"),
    "Hours of a blocked drop": slower("blocked drop"), "Hours of a patch": slower("patch"),
    "Hours of a visit to plaster": slower("plaster visit"), "Hours of a new run": slower("feed"),
    "Hours of an old circuit": slower("old circuit"), "Hours of a panel": slower("panel"),
    "Hours of a service": slower("service"), "Hours of an alarm": slower("alarm"),
    "Hours of a splice": slower("splice"), "Hours of a car outlet": slower("car outlet"),
    "Hours of laying a room": slower("set up"), "Hours of cleaning a room": slower("cleaning"),
    "All material": material, "Permit": permit, "Blocked drops, as judged": blocked,
    "Old feeds, as judged": old_feeds, "Cost of the cases": dearer_cases, "Chance of the cases": likelier_cases}
"""How each input is made a tenth larger in the files, by its name."""


def worked_out(home: Path) -> Context:
    """The demo house of a workspace, counted and worked out."""
    inputs = load(home, home / JOB, home)
    return context_of(inputs, rule_set(inputs.town.code))


def middles(home: Path) -> dict[str, int]:
    """The middle cost of each option [cents]."""
    return {key: one.firm.cost[1] for key, one in worked_out(home).scope.items()}


@cache
def said() -> dict[str, dict[str, int]]:
    """By how much each input moves the middle cost of each option, by option and name [cents]."""
    return {key: {one.what: one.change for one in found} for key, found in moves(worked_out(DEMO)).items()}


@cache
def today() -> dict[str, int]:
    """The middle costs of the demo house as it is."""
    return middles(DEMO)


def changed(change: Callable[[Files], None]) -> dict[str, int]:
    """The middle costs with files written anew."""
    with TemporaryDirectory() as folder:
        home = demo_copy(Path(folder))
        paths = {name: home / f"{name}.yaml" for name in ("cost-book", "price-book", "company", "towns/pellam-ford")}
        files = {name: yaml.load(path.read_text("utf-8"), Loader=yaml.BaseLoader) for name, path in paths.items()}
        change(files)
        for name, path in paths.items():
            path.write_text(yaml.safe_dump(files[name], sort_keys=False, width=10_000), "utf-8")
        return middles(home)


def test_every_change_has_its_twin_here() -> None:
    """No input is made larger that is not made so in the files too."""
    assert set(WRITTEN) == set(CHANGES)


@pytest.mark.parametrize("what", WRITTEN)
def test_a_change_moves_the_middle_cost_as_changed_files_do(what: str) -> None:
    """Each option's middle cost moves by the very cents by which it moves when the file says a tenth more."""
    found = changed(WRITTEN[what])
    assert {key: found[key] - today()[key] for key in found} == {key: said()[key].get(what, 0) for key in found}


def test_files_written_anew_say_the_same() -> None:
    """Without a change they give the same costs, so that what moves is the change alone."""
    assert changed(lambda files: None) == today()


def test_the_largest_move_comes_first_and_none_is_nought() -> None:
    """Up or down, by its size; what moves nothing is not named."""
    for found in moves(worked_out(DEMO)).values():
        sizes = [abs(one.change) for one in found]
        assert sizes == sorted(sizes, reverse=True)
        assert all(sizes)


def test_no_case_is_likelier_than_certain(tmp_path: Path) -> None:
    """A case that is known stays so, and a chance that a tenth more would carry past the whole stops there."""
    home = demo_copy(tmp_path)
    edit(home / f"{JOB}/job.yaml", "  pipe wrap: not seen", "  pipe wrap: yes")
    edit(home / "price-book.yaml", "    chance: 8 of 100", "    chance: 96 of 100")
    before, found = middles(home), moves(worked_out(home))
    edit(home / "price-book.yaml", "    chance: 96 of 100", "    chance: 100 of 100")
    for old, new in (("14 of 100", "154 of 1000"), ("5 of 100", "55 of 1000"), ("30 of 100", "33 of 100"),
                     ("25 of 100", "275 of 1000")):
        edit(home / "price-book.yaml", f"    chance: {old}\n", f"    chance: {new}\n")
    after = middles(home)
    said_so = {key: {one.what: one.change for one in some} for key, some in found.items()}
    assert {key: after[key] - before[key] for key in after} == {
        key: some.get("Chance of the cases", 0) for key, some in said_so.items()}
    assert said_so["fixed-guarantee"]["Chance of the cases"] > 0
