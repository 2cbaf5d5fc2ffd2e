"""``vatwright know``: facts with their sources, in plain words."""

from __future__ import annotations

from pathlib import Path

import pytest

from procedure.command.main import main
from procedure.report.knowing import DEFERRAL, meanings, names
from procedure.vocabulary import vocabulary
from procedure.vocabulary.library import rows


def known(capsys: pytest.CaptureFixture[str], *word: str) -> str:
    assert main(["know", *word]) == 0
    return " ".join(capsys.readouterr().out.split())


def test_a_dyestuff_is_told_with_its_botanical_name_and_source(
    capsys: pytest.CaptureFixture[str],
) -> None:
    said = known(capsys, "weld")
    assert "Reseda luteola" in said  # the botanical name of weld, in any flora
    assert "It needs a mordant." in said
    assert "Mairet 1916, ch. VII" in said


def test_the_parts_of_a_plant_may_be_named(capsys: pytest.CaptureFixture[str]) -> None:
    assert "“tops” is a part of it that is used." in known(capsys, "tansy", "tops")
    assert "“seed heads” is a part of it" in known(capsys, "weld", "seed", "heads")
    assert "“seed heads” is a part of it" in known(capsys, "dyer's", "rocket", "seed heads")


def test_a_part_that_is_not_used_is_not_known() -> None:
    assert main(["know", "weld", "antlers"]) == 2


def test_a_chemical_shows_formula_cas_number_and_ghs_wording(
    capsys: pytest.CaptureFixture[str],
) -> None:
    said = known(capsys, "potassium", "dichromate")
    assert "K2Cr2O7" in said and "7778-50-9" in said  # any chemistry handbook
    assert "H350 (GHS): May cause cancer." in said  # GHS, table of hazard statements
    assert "Restricted:" in said and "Safer:" in said
    assert DEFERRAL in said


def test_the_same_chemical_is_found_by_cas_number_and_formula(
    capsys: pytest.CaptureFixture[str],
) -> None:
    assert known(capsys, "7778-50-9") == known(capsys, "K2Cr2O7")


def test_what_must_not_meet_is_said_on_both_sides(capsys: pytest.CaptureFixture[str]) -> None:
    # Acid sets chlorine free from bleach; strong lye attacks aluminium (any safety sheet).
    assert "Keep it from any acid: chlorine" in known(capsys, "bleach")
    assert "Keep it from bleach: chlorine" in known(capsys, "vinegar")
    assert "hydrogen" in known(capsys, "lye")
    assert "Keep it from lye" in known(capsys, "aluminium")


@pytest.mark.parametrize(
    ("word", "kinds"),
    [
        ("vat", {"vessel"}),
        ("mordant", {"verb, on fibre", "the part that a material plays"}),
        ("simmer", {"verb, on bath", "heat"}),
        ("soak", {"verb, on material"}),
    ],
)
def test_a_word_with_several_meanings_tells_each(word: str, kinds: set[str]) -> None:
    assert kinds <= {meaning.kind for meaning in meanings(word, vocabulary())}


def test_a_plant_that_dyes_and_harms_tells_both() -> None:
    both = {m.kind for m in meanings("alder buckthorn", vocabulary())}
    assert both == {"dyestuff", "plant that harms"}


@pytest.mark.parametrize(
    ("word", "fact"),
    [
        ("lb", "1 lb is 453.59237 g."),  # NIST SP 811, B.8: exact
        ("US gallon", "1 US gal is 3.785411784 L."),  # NIST SP 811, B.8
        ("imperial gallons", "1 imp gal is 4.54609 L."),  # NIST SP 811, B.8
        ("gallon", "write US gal or imp gal"),
        ("h302", "Harmful if swallowed"),  # GHS
        ("overnight", "480 to 960 min"),
        ("silk", "protein fibre"),
        ("Reseda luteola", "weld (dyestuff)"),
    ],
)
def test_facts_of_other_words(word: str, fact: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert fact in known(capsys, word)


def test_every_word_of_the_vocabulary_is_known_with_a_source() -> None:
    words = vocabulary()
    every = {*names(words), *(row["name"] for row in rows("words"))}
    for word in every:
        found = meanings(word, words)
        assert found, word
        for meaning in found:
            assert meaning.source and any(meaning.sentences), word
            for sentence in meaning.sentences:
                assert not sentence or sentence.endswith((".", ")")), (word, sentence)
                assert ".." not in sentence and "  " not in sentence, (word, sentence)


def test_everything_with_a_hazard_defers_to_local_rules() -> None:
    words = vocabulary()
    for table in ("dyestuffs", "mordants", "assistants", "plants_that_harm", "ghs", "hazards"):
        for entry in words.tables[table].values():
            harmful = table in ("plants_that_harm", "ghs", "hazards") or entry.words("hazards")
            if harmful:
                said = [m for m in meanings(entry.name, words) if m.name == entry.name]
                assert any(DEFERRAL in m.sentences for m in said), entry.name


def test_a_wrong_word_suggests_the_near_ones(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["know", "wled"]) == 2
    said = capsys.readouterr()
    assert said.out == ""
    assert said.err.count("\n") == 1 and "“weld”" in said.err


@pytest.mark.parametrize("word", ["", " ", "x" * 5000, "\x00", "%s{}", "…"])
def test_nonsense_is_answered_in_one_sentence(
    word: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["know", word]) == 2
    assert capsys.readouterr().err.count("\n") == 1


def test_words_of_the_house_are_known_inside_it(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "vatwright.toml").write_text(
        '[materials."fell heather"]\npart = "dyestuff"\nhazards = ["stains skin"]\n'
        'source = "our own trials"\nplant-parts = ["tops"]\n',
        encoding="utf-8",
    )
    monkeypatch.chdir(tmp_path)
    said = known(capsys, "fell", "heather", "tops")
    assert "our own trials (vatwright.toml)" in said
    assert "stains hands" in said
    monkeypatch.chdir("/")
    assert main(["know", "fell heather"]) == 2


@pytest.mark.parametrize(
    ("plant", "said", "unsaid"),
    [
        ("foxglove", "It is deadly: a little of it can kill.", "made by the mordant"),
        ("milkweed", "It is poisonous.", "made by the mordant"),
        ("tansy", "It is poisonous.", "how it dyes is not told"),
        ("weld", "made by the mordant", "poisonous"),
    ],
)
def test_a_plant_that_poisons_says_so_first(
    plant: str, said: str, unsaid: str, capsys: pytest.CaptureFixture[str]
) -> None:
    """And nothing is told of the dyeing of one of which no colour is known."""
    main(["know", plant])
    printed = " ".join(capsys.readouterr().out.split())
    assert said in printed and unsaid not in printed
