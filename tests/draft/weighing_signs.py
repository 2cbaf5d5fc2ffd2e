"""Counts what each sign of doubt was right and wrong with, and works out the weights from that.

``python tests/draft/weighing_signs.py`` prints the rows of ``signs_of_doubt.csv``; ``--keep``
writes them. A reader that has been tuned by a recipe is seldom wrong about it, so each set of
recipes is read with the reader of the day on which they were written, taken from the history,
and the signs as they are now. The weights are those of a logistic regression with a penalty.
``--tuned`` counts with the reader as it is, which shows how little that would tell.
"""

from __future__ import annotations

import csv
import io
import json
import math
import shutil
import subprocess
import sys
import tarfile
import tempfile
from collections import Counter
from pathlib import Path
from typing import Any, NamedTuple

HOUSE = Path(__file__).parents[2]
DRAFT = "procedure/draft"
# The recipes that may be read to tune the reader, by the commit that they were written in.
UNSEEN = {
    "ccf882e7": "later_hands/open",
    "680e884a": "many_hands/open",
    "870c2e5f": "strangers/open",
    "6bdbc79d": "ordinary/open",
    "3a3ca787^": "several/open",
    "7b7aa419^": "everyday/open",
    "fb18fd9d^": "neighbours/open",
    "1b20152c^": "plain_hands/open",
}
# What of the room is new since the oldest of them and is put into each: the signs themselves.
OF_SIGNS = (
    "signs_of_doubt.py",
    "signs_of_doubt.csv",
    "placings.py",
    "limits.py",
    "words_not_read.py",
)
KINDS_OF_WORDS = ("elsewhere", "may be", "hearsay", "labelled vessel")
PENALTY = 0.3  # on the square of each weight, but not on that of any placing
STEPS = 25  # of Newton's: far more than it takes
SOURCE = "our own; tests/draft/weighing_signs.py"
# Signs that were weighed with recipes besides, which are no longer kept, and too seldom in those
# that are: their rows stay as they were.
WEIGHED_EARLIER = (
    "recipe mostly not read",
    "recipe badly read",
    "what others say",
    "no verb, and words not read",
    "what may be",
)


class Judged(NamedTuple):
    """A placing of a recipe that may be read: its signs, and whether it was right."""

    signs: tuple[str, ...]
    right: bool


def judged_here(folder: str) -> list[Judged]:
    """Every placing of the recipes of a folder with a verdict in their sheets."""
    import prose_measure

    from procedure.draft import drafting, signs_of_doubt
    from procedure.draft.placings import placings

    signs: dict[int, tuple[str, ...]] = {}
    page = drafting._page

    def noted(prose: str, told: Any, course: Any) -> Any:
        for later, empty in (("bases", {}), ("of_no_bath", set())):
            course.__dict__.setdefault(later, empty)
        signs.clear()
        for one in placings(course):
            signs[one.amount.start] = tuple(signs_of_doubt.signs_of(one))
        return page(prose, told, course)

    drafting._page = noted
    if hasattr(drafting, "leave_what_signs_speak_against"):
        drafting.leave_what_signs_speak_against = lambda course: None
    made: list[Judged] = []
    for path in sorted((prose_measure.PROSE / folder).glob("*.txt")):
        draft = drafting.drafted(prose_measure.text_of(path))
        sheet = prose_measure._sheet(path)
        verdicts, _ = prose_measure.judge(draft, sheet)
        prose, places = prose_measure.squeezed(draft.prose)
        claimed: list[tuple[int, int]] = []
        for amount, verdict in zip(sheet["amount"], verdicts, strict=False):
            low, high = prose_measure._found(amount["words"], draft.prose, prose, places, claimed)
            here = next((one for at, one in signs.items() if low <= at < high), None)
            if here is not None and verdict.outcome in ("right", "wrong"):
                made.append(Judged(here, verdict.outcome == "right"))
    drafting._page = page
    return made


def judged_then(commit: str, folder: str) -> list[Judged]:
    """The same with the reader of a commit, in a copy of the house of its own."""
    with tempfile.TemporaryDirectory() as name:
        copy = Path(name)
        for part in ("procedure", "grammar"):
            shutil.copytree(HOUSE / part, copy / part)
        shutil.rmtree(copy / DRAFT)
        packed = subprocess.run(
            ["git", "archive", commit, DRAFT], cwd=HOUSE, capture_output=True, check=True
        ).stdout
        with tarfile.open(fileobj=io.BytesIO(packed)) as archive:
            archive.extractall(copy, filter="data")
        for one in OF_SIGNS:
            shutil.copy(HOUSE / DRAFT / one, copy / DRAFT / one)
        words = (HOUSE / DRAFT / "words.csv").read_text("utf-8").splitlines(keepends=True)
        kinds = tuple(f",{kind}," for kind in KINDS_OF_WORDS)
        with (copy / DRAFT / "words.csv").open("a", encoding="utf-8") as file:
            file.writelines(one for one in words if any(kind in one for kind in kinds))
        found = subprocess.run(
            [sys.executable, __file__, "--here", str(copy), folder],
            capture_output=True,
            check=True,
            text=True,
        ).stdout
    return [Judged(tuple(signs), right) for signs, right in json.loads(found)]


def counts(found: list[Judged], names: list[str]) -> dict[str, Counter[bool]]:
    """How often each sign was right and wrong; the first name stands for any placing."""
    made = {names[0]: Counter(one.right for one in found)}
    return made | {
        name: Counter(one.right for one in found if name in one.signs) for name in names[1:]
    }


def weights(found: list[Judged], names: list[str]) -> dict[str, float]:
    """What each sign adds to the logarithm of the odds of being wrong, by logistic regression."""
    import numpy as np

    rows = np.array([[1.0, *(float(name in one.signs) for name in names[1:])] for one in found])
    wrong = np.array([0.0 if one.right else 1.0 for one in found])
    penalty = np.diag([0.0, *[PENALTY] * (len(names) - 1)])
    made = np.zeros(len(names))
    for _ in range(STEPS):
        chance = 1 / (1 + np.exp(-rows @ made))
        slope = rows.T @ (chance - wrong) + penalty @ made
        curve = (rows.T * (chance * (1 - chance))) @ rows + penalty
        made = made - np.linalg.solve(curve, slope)
    return {name: float(one) for name, one in zip(names, made, strict=True)}


def taken_back(found: list[Judged], weighed: dict[str, float], odds: float) -> Counter[bool]:
    """How many right and wrong ones have more than these odds of being wrong."""
    base, *_ = weighed.values()
    over = [one for one in found if base + sum(map(weighed.get, one.signs)) > math.log(odds)]  # type: ignore[arg-type]
    return Counter(one.right for one in over)


def main() -> None:
    """Prints the rows, and writes them where that is asked for."""
    if "--here" in sys.argv:
        house, folder = sys.argv[sys.argv.index("--here") + 1 :]
        sys.path[:0] = [house, str(HOUSE / "tests")]
        print(json.dumps(judged_here(folder)))
        return
    sys.path[:0] = [str(HOUSE), str(HOUSE / "tests")]
    from procedure.draft import signs_of_doubt

    now = [name for name in signs_of_doubt.SIGNS if name not in WEIGHED_EARLIER]
    names = [signs_of_doubt.BASE, *now]
    found: list[Judged] = []
    for commit, folder in UNSEEN.items():
        found += judged_here(folder) if "--tuned" in sys.argv else judged_then(commit, folder)
    counted, weighed = counts(found, names), weights(found, names)
    order = [names[0], *sorted(names[1:], key=lambda name: -weighed[name])]
    rows = [
        (name, f"{weighed[name]:.2f}", *(counted[name][way] for way in (True, False)))
        for name in order
    ]
    for row in rows:
        print(*row, sep=",")
    with signs_of_doubt.WEIGHTS.open(encoding="utf-8", newline="") as file:
        kept = [row for row in csv.reader(file) if row[0] in WEIGHED_EARLIER]
    weighed |= {row[0]: float(row[1]) for row in kept}
    for odds in (1 / 6, 1 / 5, 1 / 4, 2 / 7, 1 / 3):
        print(f"odds over {odds:.3f}: {taken_back(found, weighed, odds)}")
    if "--keep" in sys.argv:
        with signs_of_doubt.WEIGHTS.open("w", encoding="utf-8", newline="") as file:
            writer = csv.writer(file, lineterminator="\n")
            writer.writerow(("sign", "weight", "right", "wrong", "source"))
            writer.writerows((*row, SOURCE) for row in rows)
            writer.writerows(kept)


if __name__ == "__main__":
    main()
