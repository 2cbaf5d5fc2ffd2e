"""``vatwright new`` over the vocabulary.

``python -m tests.new_bench`` prints counts and time.

A fibre of each class, every dyestuff, and the usual mordants: none, alum, its acetate, iron,
copper. With a number N only every N-th of them.
"""

from __future__ import annotations

import sys
import time
from collections import Counter
from collections.abc import Iterator
from fractions import Fraction

from procedure.start import NoMethod, Wish, made
from procedure.vocabulary import Entry, vocabulary

MORDANTS = (
    None,
    "potassium alum",
    "aluminium acetate",
    "ferrous sulphate",
    "copper sulphate",
)


def fibres() -> list[Entry]:
    """The first fibre of each class, and silk, whose limits are its own."""
    first: dict[str, Entry] = {}
    for entry in vocabulary().tables["fibres"].values():
        first.setdefault(entry.facts["class"], entry)
    return [*first.values(), vocabulary().tables["fibres"]["silk"]]


def all_asked(every: int = 1) -> Iterator[Wish]:
    """What may be asked for, every N-th of it."""
    words = vocabulary()
    dyes = {entry.name: entry for entry in words.tables["dyestuffs"].values()}
    number = 0
    for fibre in fibres():
        for dye in dyes.values():
            for name in MORDANTS:
                number += 1
                if number % every == 0:
                    mordant = words.material(name) if name else None
                    yield Wish("A trial", fibre, "", Fraction(100), dye, mordant)


def main() -> None:
    """Prints how many give a file and why the others do not."""
    every = int(sys.argv[1]) if len(sys.argv) > 1 else 1
    began = time.perf_counter()
    written, refused, tried = 0, Counter[str](), 0
    for asked in all_asked(every):
        tried += 1
        try:
            made(asked)
            written += 1
        except NoMethod as reason:
            said = str(reason).replace(asked.dye.name, "DYE").replace(asked.fibre.name, "FIBRE")
            refused[said] += 1
    seconds = time.perf_counter() - began
    print(f"{tried} asked for, {written} written without a warning, {seconds:.0f} s")
    for said, count in refused.most_common():
        print(f"{count:5} {said}")


if __name__ == "__main__":
    main()
