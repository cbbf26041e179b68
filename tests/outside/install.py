"""Fetches the checkers that are not Python packages, for the tests in this folder.

From Debian's packages: Chromium with a font, Firefox, WebKit with a screen that nobody sees, Java,
npm, qpdf and poppler, where one is missing, this is a Debian machine and we are root. From the npm
registry, into `.cache/outside`: the CommonMark specification, the Nu HTML Checker (which needs Java
to run), axe-core and Lighthouse.

What cannot be had is told and left: its tests then say so. With CI=true it is a failure
(exit 1). It uses the standard library alone and never runs a package's install script.
"""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from pathlib import Path

CACHE = Path(__file__).resolve().parent.parent.parent / ".cache" / "outside"

NPM_PACKAGES = (
    "axe-core@4.14.1",
    "commonmark-spec@0.31.2",
    "lighthouse@12.2.3",
    "vnu-jar@26.9.27",
)
FIREFOX_NAMES = ("firefox-esr", "firefox")
CHROMIUM_NAMES = ("chromium", "chromium-browser", "google-chrome-stable", "google-chrome")
# A program's names on the path, and the Debian packages that bring it.
DEBIAN_PACKAGES = (
    (CHROMIUM_NAMES, ("chromium", "fonts-dejavu-core")),
    (FIREFOX_NAMES, ("firefox-esr",)),
    (("WebKitWebDriver",), ("webkit2gtk-driver",)),  # WebKit, with a small browser of its own
    (("Xvfb",), ("xvfb",)),  # the screen on which it opens its window
    (("java",), ("default-jre-headless",)),  # the Nu HTML Checker runs on it
    (("npm",), ("npm",)),
    (("qpdf",), ("qpdf",)),
    (("pdftotext",), ("poppler-utils",)),
)


def main() -> int:
    """Fetch everything, then tell what is missing; exit 1 for that in CI only."""
    missing = [*debian_packages(), *npm_packages()]
    for what in missing:
        print(f"outside checkers: {what} is missing; its tests cannot run", flush=True)
    return 1 if missing and os.environ.get("CI") == "true" else 0


def debian_packages() -> list[str]:
    """Install by apt what is not there; the programs that are missing afterwards."""
    wanted = [each for names, packages in DEBIAN_PACKAGES if not found(names) for each in packages]
    if wanted and shutil.which("apt-get") and os.name == "posix" and os.geteuid() == 0:
        quiet = {**os.environ, "DEBIAN_FRONTEND": "noninteractive"}
        install = ("apt-get", "install", "-y", "-qq", "--no-install-recommends", *wanted)
        for command in (("apt-get", "update", "-qq"), install):
            print(f"outside checkers: {' '.join(command)}", flush=True)
            subprocess.run(
                command, check=True, env=quiet, stdin=subprocess.DEVNULL, stdout=subprocess.DEVNULL
            )
    return [f"the program {names[0]}" for names, _ in DEBIAN_PACKAGES if not found(names)]


def found(names: tuple[str, ...]) -> str | None:
    """The first of some programs that is on the path, or None."""
    return next((place for name in names if (place := shutil.which(name))), None)


def chromium() -> str | None:
    """The Chromium on the path, or None."""
    return found(CHROMIUM_NAMES)


def npm_packages() -> list[str]:
    """Install the npm packages once for each state of their list; what is missing afterwards."""
    stamp = CACHE / "installed"
    wanted = "\n".join(NPM_PACKAGES)
    if stamp.is_file() and stamp.read_text(encoding="utf-8") == wanted:
        return []
    npm = shutil.which("npm")
    if npm is None:
        return [f"what npm brings ({', '.join(NPM_PACKAGES)})"]
    CACHE.mkdir(parents=True, exist_ok=True)
    flags = ("--ignore-scripts", "--no-audit", "--no-fund", "--no-save", "--loglevel=error")
    command = [npm, "install", "--prefix", str(CACHE), *flags, *NPM_PACKAGES]
    print(f"outside checkers: npm install {' '.join(NPM_PACKAGES)}", flush=True)
    subprocess.run(command, check=True, stdin=subprocess.DEVNULL)
    stamp.write_text(wanted, encoding="utf-8")
    return []


if __name__ == "__main__":
    sys.exit(main())
