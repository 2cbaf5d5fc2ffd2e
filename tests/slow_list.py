"""``pytest -m "not slow"`` leaves out what stands in ``slow.txt``; CI runs it all."""

from __future__ import annotations

from pathlib import Path

_FILE = Path(__file__).with_name("slow.txt")

SLOW = tuple(line for line in _FILE.read_text("utf-8").splitlines() if not line.startswith("#"))
SLOW_FOLDERS = tuple(line for line in SLOW if line.endswith("/"))
