"""What a function made of a text, kept so that a process which lives for days does not grow.

``functools.lru_cache`` bounds how many answers are kept and not how long the texts are, which
are kept with them. A line may have thousands of letters, and an editor reads it anew at each key.
"""

from __future__ import annotations

from procedure.quantity.record import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Callable
    from typing import TypeVar

    Made = TypeVar("Made")

# Letters of a text of which the answer is kept: most sentences have fewer, and are said again.
LONGEST = 400


class Remembered(dict[str, "Made"]):
    """A function of one text that keeps its answers: ``most`` of them, then it begins anew.

    To ask for one that is kept takes as long as with ``lru_cache``: no Python is run for it.
    """

    __slots__ = ("made", "most")

    def __init__(self, made: Callable[[str], Made], most: int) -> None:
        super().__init__()
        self.made = made
        self.most = most

    def __missing__(self, text: str) -> Made:
        answer = self.made(text)
        if len(text) <= LONGEST:
            if len(self) >= self.most:
                self.clear()
            self[text] = answer
        return answer

    if TYPE_CHECKING:

        def __call__(self, text: str) -> Made: ...
    else:
        __call__ = dict.__getitem__

    def cache_clear(self) -> None:
        """Forget everything, as the other caches do where the vocabulary is read anew."""
        self.clear()


def remembered(most: int) -> Callable[[Callable[[str], Made]], Remembered[Made]]:
    """Makes a function of one text remember so many answers; see :class:`Remembered`."""

    def made(function: Callable[[str], Made]) -> Remembered[Made]:
        return Remembered(function, most)

    return made
