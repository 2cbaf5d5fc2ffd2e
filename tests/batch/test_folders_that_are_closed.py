"""A folder of records that cannot be looked into is said, and never passed over."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from procedure.command.main import main

RECORD = next((Path(__file__).parents[2] / "examples" / "records").rglob("*.batch"))


@pytest.mark.parametrize("command", [["batches"], ["match", "#d8b848"]])
def test_it_is_said(
    command: list[str],
    tmp_path: Path,
    capsys: pytest.CaptureFixture[str],
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    (tmp_path / "closed").mkdir()
    (tmp_path / "one.batch").write_bytes(RECORD.read_bytes())
    (tmp_path / "gone.batch").symlink_to("nowhere")
    whole = os.scandir

    def scandir(path: object) -> object:  # root may look everywhere, so the refusal is played
        if str(path).endswith("closed"):
            raise PermissionError(13, "Permission denied", str(path))
        return whole(path)  # type: ignore[call-overload]

    monkeypatch.setattr(os, "scandir", scandir)
    assert main([*command, str(tmp_path)]) == 1, "something was left out"
    said = capsys.readouterr().err
    assert "closed cannot be looked into: permission denied. It is left out." in said
    assert "gone.batch cannot be read" in said
