"""The full name of a material whose name in the vocabulary could be taken for another's.

“Lye” is caustic soda in one house and water from ashes in the next; “bleach” has chlorine in
it or oxygen. Papers, labels and findings say which, by ``data/trade_names.csv``.
"""

from __future__ import annotations

from functools import cache

from procedure.vocabulary.data_files import rows


def trade_name(name: str) -> str:
    """What a material of the vocabulary is called on paper: its own name in most cases."""
    return _names().get(name, name)


def with_capitals(text: str) -> str:
    """A sentence in which names that begin with a capital have it: St John's wort."""
    for name, in_full in _names().items():
        if in_full.casefold() == name and name in text:
            text = text.replace(name, in_full)
    return text


@cache
def _names() -> dict[str, str]:
    return {row["name"]: row["in_full"] for row in rows("trade_names")}
