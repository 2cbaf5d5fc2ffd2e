"""A real Chromium for the tests that look at pages, and the examples that papers are made of."""

from __future__ import annotations

import os
import shutil
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

EXAMPLES = sorted((Path(__file__).parents[2] / "examples").glob("*.dye"))
FLAGS = [
    "--headless",
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
]


@pytest.fixture(scope="session")
def chromium() -> Iterator[Any]:
    """Chromium as the system has it. Without one the test is skipped, and fails where CI=true.

    Playwright gives it a new folder for its profile each time.
    """
    found = shutil.which("chromium") or shutil.which("chromium-browser")
    if found is None:
        if os.environ.get("CI") == "true":
            pytest.fail("Chromium is not installed, and CI looks at every page with it")
        pytest.skip("Chromium is not installed")
    from playwright.sync_api import sync_playwright

    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=found, args=FLAGS)
        yield browser
        browser.close()
