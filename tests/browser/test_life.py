"""The life of a job, from a link to an archive: opened, signed on a tablet, filed, changed, compared, cancelled."""

from __future__ import annotations

import hashlib
import json
from datetime import date, datetime
from pathlib import Path
from typing import Any

import rfc8785
from playwright.sync_api import Browser

from sitegen.dates.cancellation import CancelRule, refund_by
from sitegen.dates.holidays_us import HolidayRule
from sitegen.rules.read import given
from sitegen.sealing.publish import Wanted, publish
from sitegen.workspace import Workspace
from tests.browser.seen import opened
from tests.browser.test_agreement import TABLET, change, saved, signed
from tests.browser.test_sealed import OPENED, to
from tests.helpers import JOB, Done, demo_copy, sitegen

EVENING = datetime(2026, 11, 20, 18, 0)
"""A Friday before the last day on which the dates of the demo house hold."""


def archive(home: Path, *words: str) -> Done:
    """A command of the archive that has to end well."""
    done = sitegen("archive", *words, "--home", str(home), cwd=home)
    assert done.returncode == 0, (words, done.stderr)
    return done


def test_a_house_is_signed_from_its_link_filed_changed_compared_and_cancelled(browser: Browser, tmp_path: Path) -> None:
    """What is signed in the sealed page on a tablet is what was kept: it is filed as it comes out, checked by a second
    program, changed by an order from its record, compared with it, and cancelled within its days, and the story says
    all of it."""
    home = demo_copy(tmp_path)
    made = publish(Workspace(home, home / "site"), home / JOB, Wanted(date(2026, 11, 19)))
    archive(home, "key")
    agreement, order, out = (tmp_path / name for name in ("agreement.json", "order.json", "out.json"))
    with opened(browser, made.page, TABLET, once=True) as seen:
        page = seen.page
        page.clock.install(time=EVENING)
        page.goto("about:blank")
        page.goto(to(made, ".agreement.agreement"))
        page.wait_for_selector(f"{OPENED} main#agreement")
        signed(page, "per-item")
        first: dict[str, Any] = json.loads(saved(page, "[data-save-record]", agreement))
        change(page, agreement)
        second: dict[str, Any] = json.loads(saved(page, "[data-save-change]", order))
        assert [error for error in seen.errors if "Content Security" in error] == []
    assert archive(home, "add", str(agreement)).stdout.splitlines()
    assert sitegen("archive", "add", str(agreement), "--home", str(home), cwd=home).returncode == 1
    archive(home, "add", str(order))
    bags = sorted(path.name for path in (home / "archive" / "bags").iterdir())
    compared = archive(home, "compare", *bags).stdout
    assert f"{first['total'] / 100:,.2f}".removesuffix(".00") in compared
    assert f"{second['total'] / 100:,.2f}".removesuffix(".00") in compared
    out.write_bytes(rfc8785.dumps(_cancelled(second)))
    head = archive(home, "add", str(out)).stdout
    assert archive(home, "verify", "--second-opinion").returncode == 0
    story = archive(home, "show", JOB).stdout
    assert all(word in story for word in ("agreement", "change", "cancel")), story
    assert head


def _cancelled(newest: dict[str, Any]) -> dict[str, Any]:
    """A cancellation in writing on the Saturday after the signing, of what was filed last."""
    said = "2026-11-21T10:00:00-05:00"
    back = refund_by(date(2026, 11, 21), given(CancelRule, "cancel"), given(HolidayRule, "holidays"))
    return {"format": 1, "kind": "cancellation", "job": JOB, "version": 1,
            "prior": hashlib.sha512(rfc8785.dumps(newest)).hexdigest(), "said_at": said, "how": "a letter",
            "by": newest["signatures"][0]["name"], "refund": 0, "refund_by": back.isoformat(), "signatures": []}
