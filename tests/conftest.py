"""What all tests share: snapshots with the option that accepts them, and time for hypothesis."""

from __future__ import annotations

import os
import tempfile
from collections.abc import Callable
from pathlib import Path

import pytest
from hypothesis import HealthCheck, settings
from sampling import spread

# What checks remember is not to outlive the tests, nor to come from elsewhere.
_CACHE = tempfile.TemporaryDirectory(prefix="vatwright-tests-")
os.environ["XDG_CACHE_HOME"] = _CACHE.name

# A busy machine is slow now and then, and that is no fault of what is tested.
settings.register_profile(
    "unhurried", deadline=None, suppress_health_check=[HealthCheck.too_slow], print_blob=True
)
settings.load_profile("unhurried")

SNAPSHOTS = Path(__file__).parent / "snapshots"

Snapshot = Callable[[str, str], None]

# What takes long: a real browser, PDFs, built packages, the fault bench, thousands of texts.
# ``pytest -m "not slow"`` leaves them out; CI runs them all.
SLOW = (
    "batch/test_any_record.py",
    "batch/test_sourced.py",
    "batch/test_with_procedures.py",
    "bench/",
    "chart/test_measures.py",
    "chart/test_rendering.py",
    "commands/test_hooks.py",
    "fuzz/",
    "handout/test_handout_browser.py",
    "handout/test_handout_contents.py",
    "handout/test_handout_pdf.py",
    "handout/test_hostile_words.py",
    "language/test_any_text.py",
    "packaging/test_packages.py",
    "service/test_language_server.py",
    "service/test_page.py",
    "timetable/test_published.py",
    "vocabulary/test_effects.py",
    "weigh/test_properties.py",
)


# Of a test with more cases than this the quick tier tries so many, spread over all of them.
QUICK_CASES = 3


def _mark_the_rest(items: list[pytest.Item]) -> None:
    """Mark as slow the cases that the quick tier leaves to the whole run."""
    cases: dict[tuple[Path, str], list[pytest.Item]] = {}
    for item in items:
        cases.setdefault((item.path, getattr(item, "originalname", item.name)), []).append(item)
    for alike in cases.values():
        quick = spread(len(alike), QUICK_CASES)
        for number, item in enumerate(alike):
            if number not in quick:
                item.add_marker(pytest.mark.slow)


def pytest_collection_modifyitems(config: pytest.Config, items: list[pytest.Item]) -> None:
    """Mark the slow tier; leave out what samples stand in for, unless it is asked for."""
    here = Path(__file__).parent
    asked = config.getoption("--exhaustive")
    for item in items:
        if item.get_closest_marker("exhaustive") and not asked:
            item.add_marker(pytest.mark.skip(reason="sampled elsewhere; --exhaustive runs it all"))
        if item.path.relative_to(here).as_posix().startswith(SLOW):
            item.add_marker(pytest.mark.slow)
    _mark_the_rest(items)
    if hasattr(config, "workerinput"):
        items.sort(key=lambda item: _turn(item.path.relative_to(here).as_posix()))


# Where tests are shared out among workers, a file stays with one of them, so that what its tests
# share is made once. These share what many files need, such as the plans of all examples.
TOGETHER = (
    "examples/test_what_people_see.py",
    "handout/test_handout_browser.py",
    "handout/test_handout_contents.py",
    "handout/test_handout_pdf.py",
    "handout/test_short_handout.py",
)
# What takes longest goes out first, so that no worker is left alone with it in the end.
FIRST = (
    *TOGETHER,
    "bench/",
    "service/",
    "packaging/",
    "timetable/",
    "handout/",
    "chart/",
    "commands/",
    "batch/",
)


def _turn(path: str) -> int:
    """When the tests of a file are to go out; the lower the sooner."""
    return next((at for at, name in enumerate(FIRST) if path.startswith(name)), len(FIRST))


def pytest_configure(config: pytest.Config) -> None:
    """The files go out in our order, not with the most tests first."""
    if hasattr(config.option, "loadscopereorder"):
        config.option.loadscopereorder = False


@pytest.hookimpl(optionalhook=True)
def pytest_xdist_make_scheduler(config: pytest.Config, log: object) -> object:
    """Share out by file, where nothing else is asked for with ``--dist``."""
    if config.getoption("dist") != "load":
        return None
    from xdist.scheduler import LoadFileScheduling

    by_file = LoadFileScheduling(config, log)
    by_file._split_scope = _belongs_to
    return by_file


def _belongs_to(nodeid: str) -> str:
    """What a test goes out with: the others of its file, or of several files."""
    path = nodeid.split("::", 1)[0].removeprefix("tests/")
    return "together" if path in TOGETHER else path


def pytest_addoption(parser: pytest.Parser) -> None:
    """``pytest --accept`` stores what snapshot tests made as what is wanted."""
    parser.addoption(
        "--accept", action="store_true", help="store new snapshots; review them in the diff"
    )
    parser.addoption(
        "--exhaustive", action="store_true", help="run the whole of what other tests sample"
    )


@pytest.fixture
def snapshot(request: pytest.FixtureRequest) -> Snapshot:
    """Hold a text against the file of that name in tests/snapshots."""

    def held(name: str, made: str) -> None:
        path = SNAPSHOTS / name
        if request.config.getoption("--accept"):
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_bytes(made.encode("utf-8"))
            return
        assert path.is_file(), f"no snapshot {path.name}; pytest --accept stores it"
        assert made == path.read_bytes().decode("utf-8")

    return held
