"""Runs `unload` in a process of its own and kills it: at a moment of the clock, or at a deed."""

from __future__ import annotations

import os
import signal
import sys
import time
from collections.abc import Callable
from pathlib import Path

from builderlog.command.main import main

# What the system is asked for that can change a disk, as Python tells its audit hooks.
DEEDS = (
    "open",
    "os.mkdir",
    "os.link",
    "os.rename",
    "os.remove",
    "os.rmdir",
    "os.utime",
    "os.chmod",
)


def unload_killed_at_deed(root: Path, number: int) -> bool:
    """Kills the run just before its deed of that number; False where it came to its end first."""
    return _forked(lambda: _die_at(number), root) != 0


def unload_killed_after(root: Path, seconds: float) -> bool:
    """Kills the run from outside after some time; False where it came to its end first."""
    child = _start(lambda: None, root)
    time.sleep(seconds)
    os.kill(child, signal.SIGKILL)
    _, status = os.waitpid(child, 0)
    return os.WIFSIGNALED(status)


def _forked(first: Callable[[], None], root: Path) -> int:
    _, status = os.waitpid(_start(first, root), 0)
    return status


def _start(first: Callable[[], None], root: Path) -> int:
    child = os.fork()
    if child:
        return child
    try:
        os.dup2(os.open(os.devnull, os.O_WRONLY), 1)
        first()
        os._exit(main(["unload", str(root), "--on", "2026-04-20"]))
    finally:
        os._exit(70)


def _die_at(number: int) -> None:
    left = [number]

    def hook(event: str, _: object) -> None:
        if event in DEEDS:
            left[0] -= 1
            if left[0] < 0:
                os.kill(os.getpid(), signal.SIGKILL)

    sys.addaudithook(hook)
