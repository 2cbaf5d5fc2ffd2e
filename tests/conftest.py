"""What all tests share: the snapshots, and the option that accepts them."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

SNAPSHOTS = Path(__file__).parent / "snapshots"

Snapshot = Callable[[str, str], None]


def pytest_addoption(parser: pytest.Parser) -> None:
    """``pytest --accept`` stores what snapshot tests made as what is wanted."""
    parser.addoption(
        "--accept", action="store_true", help="store new snapshots; review them in the diff"
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
