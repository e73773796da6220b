"""WebKitGTK through its own driver: the WebDriver protocol over plain HTTP, on a screen that nobody sees."""

from __future__ import annotations

import json
import os
import shutil
import subprocess
from collections.abc import Iterator
from contextlib import contextmanager
from http.client import HTTPConnection
from pathlib import Path
from socket import create_server
from time import sleep
from typing import Any

ELEMENT = "element-6066-11e4-a52e-4f735466cecf"
KEYS = {"ArrowLeft": "\ue012", "ArrowRight": "\ue014", "Escape": "\ue00c", "Tab": "\ue004", "Space": " "}
ARGUMENTS = ["--automation", "--full-screen"]        # its tool bar would not let a window be as narrow as a phone
LISTEN = """<script>window.wrong = [];
addEventListener("error", (event) => wrong.push(event.message || event.target.outerHTML || "error"), true);
addEventListener("unhandledrejection", (event) => wrong.push(String(event.reason)));
console.error = (...what) => wrong.push(what.join(" "));
console.warn = console.error;</script>"""
"""Put first in a page, this keeps all that the console would say, for which the protocol has no word."""


TRIES, BETWEEN, PATIENCE = 1200, 0.05, 300
"""How often a question is asked again, the pause between [s], and how long an answer may take [s]: a busy machine is
slow, and what is wrong fails all the same."""


class WebKit:
    """One window of the browser."""

    def __init__(self, port: int) -> None:
        self.port = port
        made = self._ask("POST", "/session", {"capabilities": {"alwaysMatch": {
            "webkitgtk:browserOptions": {"args": ARGUMENTS}}}})
        self.session = f"/session/{made['sessionId']}"
        self.name = f"{made['capabilities']['browserName']} {made['capabilities']['browserVersion']}"

    def _ask(self, method: str, path: str, body: dict[str, Any] | None = None) -> Any:
        line = HTTPConnection("127.0.0.1", self.port, timeout=PATIENCE)
        try:
            line.request(method, path, None if body is None else json.dumps(body))
            answer = line.getresponse()
            value = json.loads(answer.read())["value"]
            assert answer.status == 200, f"{method} {path}: {value}"
            return value
        finally:
            line.close()

    def post(self, path: str, **body: Any) -> Any:
        """A command of this window."""
        return self._ask("POST", self.session + path, body)

    def get(self, path: str) -> Any:
        """A question to this window."""
        return self._ask("GET", self.session + path)

    def close(self) -> None:
        """End the browser."""
        self._ask("DELETE", self.session)

    def size(self, width: int, height: int) -> None:
        """Make the page so large."""
        self.post("/window/rect", x=0, y=0, width=width, height=height)
        self.until("return innerWidth === arguments[0]", width)

    def open(self, page: Path, place: str = "") -> None:
        """Open a file of the disk, at one of its places."""
        self.post("/url", url=page.as_uri() + (f"#{place}" if place else ""))

    def run(self, script: str, *given: Any) -> Any:
        """What a script of the page returns."""
        return self.post("/execute/sync", script=script, args=list(given))

    def until(self, script: str, *given: Any) -> None:
        """Wait until a script returns something true."""
        for _ in range(TRIES):
            if self.run(script, *given):
                return
            sleep(BETWEEN)
        raise AssertionError(f"not after {TRIES} tries: {script} {given}")

    def find(self, selector: str) -> str:
        """The element that a selector finds first."""
        return str(self.post("/element", using="css selector", value=selector)[ELEMENT])

    def click(self, selector: str) -> None:
        """A real click in the middle of an element."""
        self.post(f"/element/{self.find(selector)}/click")

    def press(self, key: str) -> None:
        """A key pressed and let go."""
        value = KEYS[key]
        self.post("/actions", actions=[{"type": "key", "id": "keys", "actions": [
            {"type": "keyDown", "value": value}, {"type": "keyUp", "value": value}]}])

    def text(self, selector: str) -> str:
        """The words of an element as they are shown."""
        return str(self.get(f"/element/{self.find(selector)}/text"))

    def role(self, selector: str) -> str:
        """What an element is to a screen reader."""
        return str(self.get(f"/element/{self.find(selector)}/computedrole"))

    def style(self, selector: str, name: str) -> str:
        """One property of an element, worked out."""
        return str(self.get(f"/element/{self.find(selector)}/css/{name}"))


def listening(site: Path, into: Path) -> Path:
    """A copy of a site each of whose pages keeps what it complains of in `window.wrong`."""
    shutil.copytree(site, into)
    for page in into.glob("*.html"):
        text = page.read_text("utf-8")
        assert text.count("<head>") == 1, page.name
        page.write_text(text.replace("<head>", "<head>" + LISTEN), "utf-8")
    return into


@contextmanager
def started(folder: Path) -> Iterator[WebKit]:
    """A window on a screen of its own; both end with the block.  Its files go to a folder of their own."""
    with create_server(("127.0.0.1", 0)) as free:
        port = free.getsockname()[1]
    read, write = os.pipe()
    with (folder / "webkit.log").open("w") as log:
        screen = subprocess.Popen(["Xvfb", "-displayfd", str(write), "-screen", "0", "1400x1000x24", "-nolisten",
                                   "tcp"], pass_fds=[write], stdout=log, stderr=log)
        os.close(write)
        with os.fdopen(read) as answer:
            number = answer.readline().strip()
        home = {**os.environ, "DISPLAY": f":{number}", "GDK_BACKEND": "x11", "HOME": str(folder), "NO_AT_BRIDGE": "1",
                "XDG_RUNTIME_DIR": str(folder), "LIBGL_ALWAYS_SOFTWARE": "1"}
        driver = subprocess.Popen(["WebKitWebDriver", f"--port={port}"], stdout=log, stderr=log, env=home)
        try:
            window = WebKit(port) if _answers(port) else None
            assert window, (folder / "webkit.log").read_text()
            yield window
            window.close()
        finally:
            for process in (driver, screen):
                process.terminate()
                process.wait(PATIENCE)


def _answers(port: int) -> bool:
    for _ in range(TRIES):
        line = HTTPConnection("127.0.0.1", port, timeout=PATIENCE)
        try:
            line.request("GET", "/status")
            return bool(line.getresponse().status)
        except OSError:
            sleep(BETWEEN)
        finally:
            line.close()
    return False
