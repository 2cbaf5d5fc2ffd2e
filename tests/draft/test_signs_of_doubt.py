"""What the words do not surely say is left as a comment, by signs that are weighed together."""

from __future__ import annotations

import csv
import math
from pathlib import Path

import pytest
from weighing_signs import Judged, counts, taken_back
from weighing_signs import weights as weigh

from procedure.command.main import main
from procedure.draft import Draft, drafted
from procedure.draft.signs_of_doubt import BASE, SIGNS, WEIGHTS, weights

DRAWN = "Wool 100 g. Boil 90 g of weld in 4 L for 1 h. Strain. Add the wool. "
UNSURE = [
    # A weight where other sentences say for how much fibre theirs is.
    (
        "Silk 900 g in all. For every pound of silk boil four ounces of weld an hour. Strain."
        " Add it. Add an ounce of chalk.",
        "an ounce",
    ),
    # A time that words of another place stand beside.
    (f"{DRAWN}Then it had an hour on the grass.", "an hour"),
    # What no list knows, in the middle of talk.
    (f"{DRAWN}Stir 5 g of brimblewort into it.", "5 g"),
    # A mordant and a dyestuff from the first in one bath: two baths may be meant.
    ("Wool 100 g. Boil 50 g of onion skins and 10 g of alum in 3 L for 1 h.", "10 g"),
]


def _code(draft: Draft) -> str:
    return "\n".join(line.partition("#")[0] for line in draft.text.splitlines())


@pytest.mark.parametrize(("prose", "words"), UNSURE)
def test_what_is_not_sure_is_asked_about_at_its_sentence(prose: str, words: str) -> None:
    draft = drafted(prose)
    assert words in [one.words for one in draft.left]
    assert f'# not placed: "{words}"' in draft.text
    assert "The words do not surely say it" in draft.text


@pytest.mark.parametrize(("prose", "words"), UNSURE)
def test_it_is_placed_where_that_is_asked_for(prose: str, words: str) -> None:
    draft = drafted(prose, place_unsure=True)
    assert words in [one.amount.words for one in draft.placed]
    assert "The words do not surely say it" not in draft.text


@pytest.mark.parametrize(
    ("prose", "line"),
    [
        (DRAWN, "boil dye-bath for 1 h"),
        (f"{DRAWN}Simmer for 40 minutes.", "simmer dye-bath for 40 min"),
        (
            "Wool 100 g. Mordant it with 10 g of alum in 4 L at 80 °C for 1 h.",
            "potassium-alum 10 g",
        ),
    ],
)
def test_what_is_sure_is_placed(prose: str, line: str) -> None:
    assert line in _code(drafted(prose))


def test_every_sign_has_a_weight_and_says_what_it_was_seen_in() -> None:
    assert set(weights()) == {BASE, *SIGNS}
    with WEIGHTS.open(encoding="utf-8", newline="") as file:
        rows = {row["sign"]: row for row in csv.DictReader(file)}
    assert all(row["source"] for row in rows.values())
    wrong = {sign: _share_wrong(row) for sign, row in rows.items()}
    for sign in SIGNS:
        # No sign speaks for a placing, and each was wrong more often than any placing is.
        assert float(rows[sign]["weight"]) > 0
        assert wrong[sign] > wrong[BASE]


def _share_wrong(row: dict[str, str]) -> float:
    right, wrong = int(row["right"]), int(row["wrong"])
    return wrong / (right + wrong)


def test_the_weights_are_those_of_the_counts() -> None:
    """A sign alone weighs about what its odds are more than those of any placing."""
    names = ["any placing", "doubtful"]
    found = [Judged((), True)] * 900 + [Judged((), False)] * 100
    found += [Judged(("doubtful",), True)] * 400 + [Judged(("doubtful",), False)] * 400
    assert counts(found, names) == {
        "any placing": {True: 1300, False: 500},
        "doubtful": {True: 400, False: 400},
    }
    made = weigh(found, names)
    assert made["any placing"] == pytest.approx(math.log(10 / 90), abs=0.15)
    assert made["doubtful"] == pytest.approx(math.log(9), abs=0.2)
    assert taken_back(found, made, 1 / 5) == {True: 400, False: 400}


def test_the_command_places_it_where_that_is_asked_for(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    prose = tmp_path / "a.txt"
    prose.write_text(f"{DRAWN}Then it had an hour on the grass.\n", encoding="utf-8")
    main(["draft", str(prose)])
    assert '# not placed: "an hour": for “hold dye-bath”?' in capsys.readouterr().out
    main(["draft", str(prose), "--place-unsure"])
    assert "hold dye-bath for 1 h" in capsys.readouterr().out
