"""What all tests share: snapshots, how they are shared out, and that all plans are verified."""

from __future__ import annotations

import gc
import os
import tempfile
from collections.abc import Iterator
from functools import cache
from pathlib import Path

import pytest
from hypothesis import HealthCheck, settings
from sampling import spread
from slow_list import SLOW, SLOW_FOLDERS
from stored import Snapshot
from verified_always import every_plan_is_looked_at, no_plan_is_broken

__all__ = ["every_plan_is_looked_at", "no_plan_is_broken"]

# What checks remember is not to outlive the tests, nor to come from elsewhere.
_CACHE = tempfile.TemporaryDirectory(prefix="vatwright-tests-")
os.environ["XDG_CACHE_HOME"] = _CACHE.name

# A busy machine is slow now and then, and that is no fault of what is tested. The examples are
# the same in each run, so that a change is told from chance; ``--exhaustive`` takes new ones.
_UNHURRIED = settings(deadline=None, suppress_health_check=[HealthCheck.too_slow], print_blob=True)
settings.register_profile("unhurried", _UNHURRIED, derandomize=True)
settings.register_profile("at leisure", _UNHURRIED)
settings.load_profile("unhurried")

HERE = Path(__file__).parent
SNAPSHOTS = HERE / "snapshots"


@cache
def _is_slow(name: str) -> bool:
    """Whether a file, or a test as ``file::test``, stands in the list or in a folder of it."""
    return name in SLOW or name.startswith(SLOW_FOLDERS)


@cache
def _file_of(path: Path) -> str:
    """A file of tests as the lists here name it: ten thousand tests are in two hundred."""
    return path.relative_to(HERE).as_posix()


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


@pytest.hookimpl(wrapper=True)
def pytest_generate_tests(metafunc: pytest.Metafunc) -> Iterator[None]:
    """The quick tier makes no tests of the cases that it leaves out: there are ten thousand."""
    yield
    if metafunc.config.getoption("markexpr") == "not slow":
        cases = metafunc._calls
        cases[:] = [cases[number] for number in sorted(spread(len(cases), QUICK_CASES))]


def pytest_collection_modifyitems(config: pytest.Config, items: list[pytest.Item]) -> None:
    """Mark the slow tier; leave out what samples stand in for, unless it is asked for."""
    asked = config.getoption("--exhaustive")
    for item in items:
        if item.get_closest_marker("exhaustive") and not asked:
            item.add_marker(pytest.mark.skip(reason="sampled elsewhere; --exhaustive runs it all"))
        file = _file_of(item.path)
        if _is_slow(file) or _is_slow(f"{file}::{getattr(item, 'originalname', item.name)}"):
            item.add_marker(pytest.mark.slow)
    _mark_the_rest(items)
    if hasattr(config, "workerinput"):
        items.sort(key=lambda item: _turn(_file_of(item.path)))


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


@cache
def _turn(path: str) -> int:
    """When the tests of a file are to go out; the lower the sooner."""
    return next((at for at, name in enumerate(FIRST) if path.startswith(name)), len(FIRST))


def pytest_collection_finish() -> None:
    """What was collected stays to the end: not to be looked at again for each new object."""
    gc.collect()
    gc.freeze()
    gc.set_threshold(50_000, 20, 20)


def pytest_ignore_collect(collection_path: Path, config: pytest.Config) -> bool | None:
    """In the quick tier a slow file is not even read: what it imports takes long as well."""
    if config.getoption("markexpr") != "not slow" or not collection_path.is_file():
        return None
    return True if _is_slow(_file_of(collection_path)) else None


def pytest_configure(config: pytest.Config) -> None:
    """The files go out in our order, not with the most tests first; new examples at leisure."""
    if config.getoption("--exhaustive"):
        settings.load_profile("at leisure")
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
