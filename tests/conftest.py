"""What tests of several rooms share: one browser for a whole process of tests."""

from __future__ import annotations

import asyncio
import os
from collections.abc import Iterator
from typing import TYPE_CHECKING

import pytest
from hypothesis import settings

from tests.examples import QUICK
from tests.outside.tools import chromium_program

if TYPE_CHECKING:
    from playwright.sync_api import Browser

# How long an example takes says how busy the machine is, never whether the claim holds.
settings.register_profile("untimed", deadline=None)
settings.register_profile("quick", settings.get_profile("untimed"), max_examples=QUICK)
settings.load_profile("untimed")

# Headless Chromium asks the network for updates and lists of its own; these keep it silent.
SILENT = (
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
)

LONGEST_MS = 20_000  # for what must come on a page: a busy machine brings it late, not never


def pytest_configure(config: pytest.Config) -> None:
    """A run that leaves out the slow tests takes fewer examples of the others."""
    if "not slow" in config.option.markexpr:
        settings.load_profile("quick")


@pytest.fixture(autouse=True)
def own_loop(request: pytest.FixtureRequest) -> Iterator[None]:
    """A test without the browser may run a loop of its own, though the browser's one goes on."""
    if "browser" in request.fixturenames:
        yield
        return
    waiting = asyncio._get_running_loop()
    asyncio._set_running_loop(None)
    yield
    asyncio._set_running_loop(waiting)


@pytest.fixture(scope="session")
def browser() -> Iterator[Browser]:
    """Headless Chromium of this machine; as root it runs without its sandbox, as it must."""
    from playwright.sync_api import expect, sync_playwright

    root = os.name == "posix" and os.geteuid() == 0
    arguments = [*SILENT, "--no-sandbox"] if root else list(SILENT)
    expect.set_options(timeout=LONGEST_MS)
    with sync_playwright() as playwright:
        started = playwright.chromium.launch(executable_path=chromium_program(), args=arguments)
        yield started
        started.close()
