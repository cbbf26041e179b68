"""Two browsers more, each asked in its own remote protocol: Firefox and WebKit.

Firefox answers to Marionette, which it brings along; WebKit to W3C WebDriver, by the driver of
WebKitGTK, on a screen that nobody sees. Both know the same commands under other names.
"""

from __future__ import annotations

import json
import os
import signal
import socket
import subprocess
import time
import urllib.request
from abc import ABC, abstractmethod
from collections.abc import Callable, Mapping
from contextlib import ExitStack
from pathlib import Path
from typing import BinaryIO

from tests.outside import tools
from tests.outside.install import FIREFOX_NAMES, found

LONGEST_S, PAUSE_S = 120, 0.05  # a busy machine may take long to start a browser
MINI_BROWSERS = "/usr/lib/*/webkit2gtk-4.*/MiniBrowser"
ESCAPE, RIGHT, ENTER = "\ue00c", "\ue014", "\ue007"
# It starts without asking, fetches nothing by itself, and takes any free port.
PREFERENCES: Mapping[str, object] = {
    "app.normandy.enabled": False,
    "app.update.enabled": False,
    "browser.safebrowsing.downloads.remote.enabled": False,
    "browser.shell.checkDefaultBrowser": False,
    "browser.startup.page": 0,
    "datareporting.policy.dataSubmissionEnabled": False,
    "marionette.port": 0,
    "network.captive-portal-service.enabled": False,
    "network.connectivity-service.enabled": False,
    "toolkit.telemetry.enabled": False,
    "ui.prefersReducedMotion": 1,
}
# Without a card for graphics, a service for the desktop, or a second wall around its processes.
QUIET = {
    "LIBGL_ALWAYS_SOFTWARE": "1",
    "NO_AT_BRIDGE": "1",
    "WEBKIT_DISABLE_SANDBOX_THIS_IS_DANGEROUS": "1",
}
OPEN, RUN = ("Navigate", "url"), ("ExecuteScript", "execute/sync")
BACK, ACT = ("Back", "back"), ("PerformActions", "actions")


class Engine(ABC):
    """One browser with one window; `home` is an empty folder of its own."""

    def __init__(self, home: Path) -> None:
        self.home = home
        self.started: list[subprocess.Popen[bytes]] = []
        self.last = ExitStack()

    @abstractmethod
    def start(self) -> None:
        """Opens its window, or ends the test where the browser is missing."""

    @abstractmethod
    def ask(self, command: tuple[str, str], words: Mapping[str, object]) -> object:
        """What the browser answers; a command has its name in both protocols."""

    def open(self, address: str) -> None:
        """Leads the window to a page and waits until it is loaded."""
        self.ask(OPEN, {"url": address})

    def run(self, script: str) -> object:
        """What a piece of script returns."""
        return self.ask(RUN, {"script": script, "args": []})

    def back(self) -> None:
        """Goes back as the browser's button does."""
        self.ask(BACK, {})

    def press(self, keys: str) -> None:
        """Presses keys one after the other."""
        moves = [{"type": kind, "value": key} for key in keys for kind in ("keyDown", "keyUp")]
        self.ask(ACT, {"actions": [{"type": "key", "id": "keys", "actions": moves}]})

    def until(self, truth: str) -> None:
        """Waits until an expression holds on the page."""
        self._wait(lambda: self.run(f"return Boolean({truth})") is True, truth)

    def close(self) -> None:
        """Ends all that was started for it."""
        self.last.close()
        for process in reversed(self.started):
            os.killpg(process.pid, signal.SIGKILL)
            process.wait()
            if process.stdout:
                process.stdout.close()

    def _run_aside(self, *words: str, **more: str) -> subprocess.Popen[bytes]:
        home = str(self.home)
        process = subprocess.Popen(
            words,
            env={**os.environ, "HOME": home, "XDG_RUNTIME_DIR": home, **more},
            stdout=subprocess.PIPE if words[0].endswith("Xvfb") else subprocess.DEVNULL,
            stderr=subprocess.DEVNULL,
            start_new_session=True,
        )
        self.started.append(process)
        return process

    @staticmethod
    def _wait(holds: Callable[[], object], what: str) -> None:
        end = time.monotonic() + LONGEST_S
        while not holds():
            assert time.monotonic() < end, f"waited in vain for {what}"
            time.sleep(PAUSE_S)


class Firefox(Engine):
    """Headless Firefox."""

    line: socket.socket
    heard: BinaryIO

    def start(self) -> None:
        """With a profile of its own; it writes its port there."""
        home = self.home
        program = found(FIREFOX_NAMES) or tools.missing("Firefox")
        lines = [f"user_pref({json.dumps(n)}, {json.dumps(v)});\n" for n, v in PREFERENCES.items()]
        (home / "user.js").write_text("".join(lines), encoding="utf-8")
        self._run_aside(
            program, "--headless", "--marionette", "--no-remote", "--profile", str(home)
        )
        port = home / "MarionetteActivePort"
        self._wait(lambda: port.is_file() and port.read_text().strip(), "Firefox")
        self.line = socket.create_connection(("127.0.0.1", int(port.read_text())), LONGEST_S)
        self.heard = self.line.makefile("rb")
        self.last.callback(self.line.close)
        self.last.callback(self.heard.close)
        self._answer()  # its greeting
        self.ask(("NewSession", ""), {})

    def ask(self, command: tuple[str, str], words: Mapping[str, object]) -> object:
        """There and back a list goes after its length; an answer tells its error and its result."""
        data = json.dumps([0, 1, f"WebDriver:{command[0]}", words]).encode()
        self.line.sendall(b"%d:%s" % (len(data), data))
        answer = self._answer()
        assert isinstance(answer, list)
        assert answer[2] is None, answer[2]
        result = answer[3]
        return result.get("value") if isinstance(result, dict) else result

    def _answer(self) -> object:
        length = b""
        while not length.endswith(b":"):
            length += self.heard.read(1) or b":"
        answer: object = json.loads(self.heard.read(int(length[:-1])))
        return answer


class WebKit(Engine):
    """WebKit as WebKitGTK builds it, with the small browser that comes with it."""

    base: str

    def start(self) -> None:
        """On a screen of its own."""
        driver, screen = tools.program("WebKitWebDriver"), tools.program("Xvfb")
        window = next(iter(sorted(Path("/").glob(MINI_BROWSERS[1:]))), None)
        program = str(window or tools.missing("the small browser of WebKitGTK"))
        shown = self._run_aside(screen, "-displayfd", "1", "-screen", "0", "1300x1000x24").stdout
        assert shown is not None
        port = free_port()
        self.base = f"http://127.0.0.1:{port}/session"
        display = f":{shown.readline().decode().strip()}"
        self._run_aside(driver, f"--port={port}", DISPLAY=display, **QUIET)
        self._wait(lambda: listens(port), "the driver of WebKit")
        options = {"binary": program, "args": ["--automation"]}
        asked = {"capabilities": {"alwaysMatch": {"webkitgtk:browserOptions": options}}}
        session = self.ask(("", ""), asked)
        assert isinstance(session, dict)
        self.base += f"/{session['sessionId']}/"

    def ask(self, command: tuple[str, str], words: Mapping[str, object]) -> object:
        """The words as JSON to the address of the command."""
        data = json.dumps(words).encode()
        request = urllib.request.Request(self.base + command[1], data)  # noqa: S310 - our own driver
        with urllib.request.urlopen(request, timeout=LONGEST_S) as answer:  # noqa: S310 - the same
            return json.load(answer)["value"]


ENGINES: tuple[type[Engine], ...] = (Firefox, WebKit)


def free_port() -> int:
    """A port that nothing listens on."""
    with socket.socket() as one:
        one.bind(("127.0.0.1", 0))
        return int(one.getsockname()[1])


def listens(port: int) -> bool:
    """Whether somebody answers there."""
    with socket.socket() as one:
        return one.connect_ex(("127.0.0.1", port)) == 0
