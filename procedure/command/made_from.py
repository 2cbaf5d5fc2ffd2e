"""What findings are made from: the texts, as sums that can be held against the files later."""

from __future__ import annotations

import json
import os
import stat
from collections.abc import Callable
from contextlib import suppress
from datetime import date
from hashlib import blake2b
from pathlib import Path
from typing import Any

from procedure.collection.bytes_of import bytes_of
from procedure.collection.files import LARGEST
from procedure.pipeline import Judged


def needs_of(plan: Judged) -> str | None:
    """What a plan was made from, as text; None where that cannot be held against a later state."""
    try:
        follows = [
            (str(put), str(put.resolve()), None if text is None else sum_of(text.encode("utf-8")))
            for put, text in plan.study.sought.items()
        ]
    except (OSError, RuntimeError, ValueError):  # links that lead to themselves
        return None
    if any(there is None and Path(path).is_file() for _, path, there in follows):
        return None  # a file that may not be read, or is no text, and may be at any time
    day = date.today().isoformat() if plan.study.workshop is not None else ""
    needs = {"text": sum_of(plan.text.encode("utf-8")), "day": day, "follows": follows}
    return json.dumps(needs)


def still_so(needs: str, text: str | None, sum_there: Callable[[str], str | None]) -> bool:
    """True where everything that findings were made from is as it was.

    ``text`` is the sum of the file itself now, ``sum_there`` gives that of any other. Raises
    ``ValueError``, ``TypeError`` or ``KeyError`` for what :func:`needs_of` has not made, and
    ``OSError`` or ``RuntimeError`` where a path cannot be followed.
    """
    said: dict[str, Any] = json.loads(needs)
    return (
        said["text"] == text
        and said["day"] in ("", date.today().isoformat())
        and all(
            str(Path(put).resolve()) == path
            and sum_there(path) == there
            and (there is not None or not Path(path).is_file())
            for put, path, there in said["follows"]
        )
    )


def sum_of(data: bytes) -> str:
    """A sum over bytes that no other bytes have, as far as is known (BLAKE2, RFC 7693)."""
    return blake2b(data, digest_size=16).hexdigest()


def sum_in(name: str) -> str | None:
    """The sum of what is in a file; None where it is no file that can be read."""
    with suppress(OSError):
        if stat.S_ISREG(os.stat(name).st_mode):  # noqa: PTH116 - of thousands of files
            return sum_of(bytes_of(name, LARGEST))
    return None
