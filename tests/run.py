"""The one command that passes the tests: `python3 tests/run.py` on a machine with Python 3.11.

It makes `.venv`, installs the package with what its tests need, fetches the outside
checkers, and then asks everything: format, lint, types, the built wheel doing the main
job, and pytest last, so that pytest's own closing line ends the output. `--quick` leaves
out the wheel and every test marked slow or browser. Words after `--` go to pytest.

It is not part of the package and uses the standard library alone, because it runs before
anything is installed.
"""

from __future__ import annotations

import argparse
import hashlib
import os
import shutil
import subprocess
import sys
import tempfile
import time
import venv
from pathlib import Path

TOP = Path(__file__).resolve().parent.parent
VENV = TOP / ".venv"
STAMP = VENV / "installed-for"

CHECKS = (
    ("format", ("ruff", "format", "--check", ".")),
    ("lint", ("ruff", "check", ".")),
    ("types", ("mypy",)),
)
MAIN_JOB = (
    ("check", "{journal}"),
    ("tally", "{journal}"),
    ("claim", "{journal}"),
    ("publish", "{journal}", "--out", "{out}/site"),
    ("dossier", "{journal}", "--out", "{out}/dossier"),
    ("verify", "{out}/dossier"),
)


def main() -> int:
    """Run every step, tell which failed, and give 1 if any did."""
    arguments = read_arguments()
    if sys.version_info < (3, 11):  # noqa: UP036 - a person may start it with an older one
        print(f"Python 3.11 or newer is needed; this is {sys.version.split()[0]}.")
        return 2
    prepare(quick=arguments.quick)
    failed = [name for name, command in CHECKS if not told(name, venv_command(command))]
    if not arguments.quick and not wheel_does_main_job():
        failed.append("wheel")
    if failed:
        print(f"\nfailed before pytest: {', '.join(failed)}", flush=True)
    pytest_passed = told("pytest", pytest_command(arguments), header=False)
    return 1 if failed or not pytest_passed else 0


def read_arguments() -> argparse.Namespace:
    """The words on the command line; `rest` are pytest's own."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0] if __doc__ else None)
    parser.add_argument("--quick", action="store_true", help="no wheel, no slow test, no browser")
    parser.add_argument("rest", nargs="*", help="words for pytest, after --")
    return parser.parse_args()


def prepare(*, quick: bool) -> None:
    """Make the environment; fetch the outside checkers unless the run is a quick one."""
    make_venv()
    if not quick:
        installer = TOP / "tests" / "outside" / "install.py"
        subprocess.run([sys.executable, str(installer)], check=True, stdin=subprocess.DEVNULL)


def make_venv() -> None:
    """Install the package and its test extras into .venv, once for each state of pyproject.toml."""
    wanted = hashlib.sha256((TOP / "pyproject.toml").read_bytes()).hexdigest()
    if STAMP.is_file() and STAMP.read_text(encoding="ascii") == wanted:
        return
    started = time.monotonic()
    venv.EnvBuilder(with_pip=True, clear=False, symlinks=os.name != "nt").create(VENV)
    pip_install(VENV, "--editable", f"{TOP}[test]")
    STAMP.write_text(wanted, encoding="ascii")
    print(f"environment: .venv made in {time.monotonic() - started:.0f} s", flush=True)


def pip_install(environment: Path, *what: str) -> None:
    """Ask the environment's own pip, with no questions and little to read."""
    pip = (program(environment, "python"), "-m", "pip", "install", "--quiet")
    quiet = ("--disable-pip-version-check", "--no-input")
    subprocess.run([*pip, *quiet, *what], check=True, stdin=subprocess.DEVNULL)


def program(environment: Path, name: str) -> str:
    """Where a program of a virtual environment lies; Windows has its own folder for them."""
    return str(environment / ("Scripts" if os.name == "nt" else "bin") / name)


def venv_command(command: tuple[str, ...]) -> list[str]:
    """The same command, run by the environment's own Python."""
    return [program(VENV, "python"), "-m", *command]


def pytest_command(arguments: argparse.Namespace) -> list[str]:
    """All tests, on as many processes as the machine has cores."""
    chosen = ["-m", "not slow and not browser"] if arguments.quick else []
    return venv_command(("pytest", "-n", "auto", *chosen, *arguments.rest))


def told(name: str, command: list[str], *, header: bool = True, cwd: Path = TOP) -> bool:
    """Run one command, say how long it took, and give whether it succeeded."""
    started = time.monotonic()
    if header:
        print(f"\n== {name}", flush=True)
    done = subprocess.run(command, check=False, cwd=cwd, stdin=subprocess.DEVNULL)
    if header:
        outcome = "ok" if done.returncode == 0 else f"exit {done.returncode}"
        print(f"== {name}: {outcome}, {time.monotonic() - started:.0f} s", flush=True)
    return done.returncode == 0


def wheel_does_main_job() -> bool:
    """Build sdist and wheel, install the wheel alone, and do the main job far from this folder."""
    with tempfile.TemporaryDirectory(prefix="builderlog-wheel-") as name:
        room = Path(name)
        build = venv_command(("build", "--outdir", str(room / "dist"), str(TOP)))
        if not told("wheel", build, cwd=room):
            return False
        clean = room / "venv"
        venv.EnvBuilder(with_pip=True, symlinks=os.name != "nt").create(clean)
        pip_install(clean, *(str(wheel) for wheel in (room / "dist").glob("*.whl")))
        journal = room / "journal"
        unwritten = shutil.ignore_patterns("published", "dossier", ".builderlog")
        shutil.copytree(TOP / "example_journal", journal, ignore=unwritten)
        outcomes = [main_job_step(clean, room, words) for words in MAIN_JOB]
        return all(outcomes)


def main_job_step(environment: Path, room: Path, words: tuple[str, ...]) -> bool:
    """One builderlog command of the main job, from the installed wheel."""
    filled = [word.format(journal=room / "journal", out=room / "out") for word in words]
    command = [program(environment, "builderlog"), *filled]
    return told(f"wheel: builderlog {words[0]}", command, cwd=room)


if __name__ == "__main__":
    sys.exit(main())
