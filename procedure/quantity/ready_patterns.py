"""Patterns of text, made ready once and kept as Python keeps its own code.

To make a long pattern ready takes Python longer than to look for it in a whole procedure, and
it does so anew at each start. Whoever keeps what a command needs (``kept``) puts that at hand
here, and is told what was made besides.
"""

from __future__ import annotations

import _sre  # type: ignore[import-not-found]  # what re itself asks in the end
import marshal
import re
import sys
from functools import lru_cache

from procedure.quantity.record import TYPE_CHECKING

if TYPE_CHECKING:
    from typing import Any

    Key = tuple[str, int]

# Another Python makes other code of the same pattern.
MADE_BY = (sys.hexversion, _sre.MAGIC, _sre.CODESIZE, sys.byteorder)
# Patterns with their flags, and what is kept of each: nothing of those that cannot be.
at_hand: dict[Key, bytes | memoryview] = {}
# Those that were not at hand.
made: dict[Key, None] = {}


# The program holds some hundreds of them.
@lru_cache(maxsize=1024)
def pattern(text: str, flags: int = 0) -> re.Pattern[str]:
    """The pattern, as ``re.compile`` has it, for a text that the program holds and no other."""
    code = at_hand.get((text, int(flags)))
    if code:
        ready: re.Pattern[str] = _sre.compile(text, *marshal.loads(code))
        return ready
    if code is None:
        made[text, int(flags)] = None
    return re.compile(text, flags)


def kept(text: str, flags: int) -> bytes:
    """What to keep of a pattern: nothing where this Python makes its patterns in another way."""
    from re import _compiler, _parser  # type: ignore[attr-defined]

    try:
        parsed: Any = _parser.parse(text, flags)
        code = list(map(int, _compiler._code(parsed, flags)))
        state = parsed.state
        names = {at: name for name, at in state.groupdict.items()}
        by_number = tuple(names.get(at) for at in range(state.groups))
        parts = (int(flags | state.flags), code, state.groups - 1, dict(state.groupdict), by_number)
        data = marshal.dumps(parts)
        same = _sre.compile(text, *marshal.loads(data)) == re.compile(text, flags)
    except (AttributeError, TypeError, ValueError):
        return b""
    return data if same else b""
