"""What is read from a data file, kept ready beside it as Python keeps its own code.

A table is parsed once and then loaded from ``__pycache__``, where Python notices by the file's
time and size that it has changed. Where nothing may be written there, it is parsed each time.
"""

from __future__ import annotations

from importlib.machinery import SourceFileLoader

from procedure.quantity.record import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Callable
    from types import CodeType
    from typing import Any

# Raised where what is kept takes another form than before.
FORM = 1


def _nothing() -> None:
    """A function whose code has room for constants: what is kept is one of them."""


class _Kept(SourceFileLoader):
    """Loads what a file says as if that were the code of a module."""

    def __init__(self, path: str, made_of: Callable[[bytes], Any]) -> None:
        super().__init__("kept", path)
        self.made_of = made_of

    def source_to_code(  # type: ignore[override]
        self, data: Any, path: Any, *, _optimize: int = -1
    ) -> CodeType:
        """What is kept of a file with those bytes."""
        return _nothing.__code__.replace(co_consts=(FORM, self.made_of(data)))


def kept_ready(path: str, made_of: Callable[[bytes], Any]) -> Any:
    """What ``made_of`` makes of the bytes of a file: tuples, dictionaries, text and numbers.

    ``made_of`` depends on nothing but them. Raises ``FileNotFoundError`` where there is no file.
    """
    loader = _Kept(path, made_of)
    code = loader.get_code("kept")
    assert code is not None
    form, kept = code.co_consts
    return kept if form == FORM else made_of(loader.get_data(path))
