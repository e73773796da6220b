"""What the browser tests stand on: a Chromium, a WebKit, the demo site, and the rule that no test is skipped.

A plain `pytest` runs every test.  A browser that is missing is installed if that is allowed, else the run
stops with the one line to type; a test that is skipped, or marked as expected to fail, fails the run.
"""

from __future__ import annotations

import os
import shutil
import subprocess
from collections.abc import Iterator
from pathlib import Path

import pytest
from hypothesis import HealthCheck, settings
from playwright.sync_api import Browser, sync_playwright

from tests.built import HOUSES, House, built
from tests.helpers import JOB, PATIENCE

pytest.register_assert_rewrite("tests.published.rows")   # so that a case that fails shows both values

settings.register_profile("repeatable", derandomize=True, deadline=None,      # a busy machine draws slowly, and well
                          suppress_health_check=[HealthCheck.too_slow])
settings.load_profile("repeatable")

NAMES = ("chromium", "chromium-browser", "google-chrome")
PACKAGES = {"chromium": NAMES, "webkit2gtk-driver": ("WebKitWebDriver",), "xvfb": ("Xvfb",), "openssl": ("openssl",)}
"""What the tests of browsers, and of a letter that names stock tools, need, by Debian's package, and the programs of
which any will do."""

INSTALL = "sudo apt-get install -y"
FLAGS = ["--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run",
         "--disable-background-networking", "--disable-component-update", "--disable-sync"]
NOT_RUN: list[str] = []


def chromium() -> str | None:
    """The Chromium to use: the one named in CHROMIUM, else the first on PATH."""
    for name in (os.environ.get("CHROMIUM"), *NAMES):
        found = shutil.which(name) if name else None
        if found:
            return found
    return None


def missing() -> list[str]:
    """The packages of which no program is here."""
    return [package for package, names in PACKAGES.items()
            if not (chromium() if package == "chromium" else any(map(shutil.which, names)))]


def install(packages: list[str]) -> str | None:
    """Install Debian's packages where that may be done; gives what went wrong, or None."""
    if shutil.which("apt-get") is None or os.geteuid() != 0:
        return f"{', '.join(packages)} missing, and this user may not install packages."
    quiet = {**os.environ, "DEBIAN_FRONTEND": "noninteractive"}
    for command in (["apt-get", "update"], ["apt-get", "install", "-y", "--no-install-recommends", *packages]):
        done = subprocess.run(command, env=quiet, check=False, text=True, stdout=subprocess.PIPE,
                              stderr=subprocess.STDOUT)
        if done.returncode:
            return f"`{' '.join(command)}` failed:\n{done.stdout[-2000:]}"
    return None


def _is_worker(config: pytest.Config) -> bool:
    return hasattr(config, "workerinput")


def pytest_sessionstart(session: pytest.Session) -> None:
    """Have the browsers before any test runs; only the process that starts the others installs them."""
    if _is_worker(session.config) or session.config.option.collectonly:
        return
    wanted = missing()
    wrong = install(wanted) if wanted else None
    if left := missing():
        pytest.exit(f"{wrong or ', '.join(left) + ' was installed, but is not on PATH.'}\n"
                    f"The browser tests need it:\n    {INSTALL} {' '.join(left)}", returncode=1)


def pytest_collectreport(report: pytest.CollectReport) -> None:
    """Note a whole file that was skipped."""
    if report.skipped:
        NOT_RUN.append(report.nodeid)


def pytest_runtest_logreport(report: pytest.TestReport) -> None:
    """Note a test that was skipped or is expected to fail."""
    if report.skipped or hasattr(report, "wasxfail"):
        NOT_RUN.append(report.nodeid)


@pytest.hookimpl(tryfirst=True)
def pytest_sessionfinish(session: pytest.Session) -> None:
    """A skipped test fails the run."""
    if NOT_RUN and not _is_worker(session.config) and session.exitstatus == pytest.ExitCode.OK:
        session.exitstatus = pytest.ExitCode.TESTS_FAILED


def pytest_terminal_summary(terminalreporter: pytest.TerminalReporter) -> None:
    """Say which tests were skipped."""
    if NOT_RUN:
        terminalreporter.section("failed: no test may be skipped or expected to fail", red=True)
        for name in dict.fromkeys(NOT_RUN):
            terminalreporter.line(name)


@pytest.fixture(scope="session")
def demo_site() -> Path:
    """The demo house, built."""
    return built(JOB).folder


@pytest.fixture(scope="session", params=HOUSES)
def house(request: pytest.FixtureRequest) -> House:
    """Each of the demo houses, built once."""
    return built(request.param)


@pytest.fixture(scope="session")
def browser() -> Iterator[Browser]:
    """One Chromium for all tests of a process."""
    with sync_playwright() as play:
        started = play.chromium.launch(executable_path=chromium(), args=FLAGS, timeout=PATIENCE * 1000)
        yield started
        started.close()
