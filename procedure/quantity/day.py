"""A day in minutes, which all times are counted in."""

from __future__ import annotations

A_DAY = 24 * 60
