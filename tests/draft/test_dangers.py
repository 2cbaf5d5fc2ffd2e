"""What can hurt and stands in a comment of a draft alone is told of all the same."""

from __future__ import annotations

from pathlib import Path

import pytest

from procedure import pipeline
from procedure.command.main import main
from procedure.draft import drafted
from procedure.draft.dangers import Harm, dangers

RECIPE = """Wash 100 g of wool yarn. Dissolve 10 g of alum in 3 litres of water, put in the wool,
heat to 80 C and hold for an hour. Lift it and rinse.
Simmer 100 g of weld in 3 litres of water for an hour and strain. Put in the wool and hold at 80 C
for an hour.
{said}
Rinse the wool and dry it.
"""


def found_in(said: str) -> list[Harm]:
    """The dangers of a plain recipe with a sentence more."""
    draft = drafted(RECIPE.format(said=said))
    return dangers(draft, pipeline.read(draft.text, "the draft"))


@pytest.mark.parametrize(
    ("said", "told"),
    [
        # poisons and what burns, measured, moved or only named
        ("My uncle swore by a spoonful of lead acetate for fastness.", "lead acetate is only"),
        ("Some folk throw in a sprig of yew for a browner tone.", "yew (Taxus baccata) is deadly"),
        ("Laburnum pods can be used instead of the weld.", "laburnum (Laburnum anagyroides)"),
        ("A little bleach takes the stain off your fingers.", "bleach is only in free words"),
        ("Nothing beats ammonia and bleach together for a clean pot.", "ammonia is only in free"),
        ("Should it be dull, two drops of muriatic acid do wonders.", "hydrochloric acid is only"),
        # at the mouth, in every tense
        ("Grandad always tasted the bath to see if it was ready.", "“Grandad always tasted the"),
        ("When it tastes sour it is ready.", "“When it tastes sour it is ready” puts the bath"),
        ("Mother used to drink what was left for her liver.", "puts the bath to the mouth"),
        # among food, by children, out of doors, away from the fire
        ("I use my milk pan and put it back in the cupboard after.", "(“milk pan”)"),
        ("Any old saucepan will do and you can cook in it afterwards.", "for the dye and for food"),
        ("The kids love to stir in the copperas.", "it is nothing for children"),
        ("The spent bath went on the roses and the rest in the beck.", "pours it where it harms"),
        ("Leave it bubbling while you pop to the shops.", "on the heat with nobody beside it"),
    ],
)
def test_what_hurts_and_is_in_a_comment_is_told(said: str, told: str) -> None:
    says = [one.says for one in found_in(said)]
    assert any(told in one for one in says), says


@pytest.mark.parametrize(
    "said",
    [
        "",
        "Never put bleach near wool.",
        "Do not taste it, and keep the children away.",
        "No lead, chrome or arsenic is wanted for this.",
        "Then draw the fire and go home.",
        "Grandmother had a fine taste in colours.",
        "A copper pan brightens it.",
        "Keep a pan for it that never goes back to the kitchen.",
    ],
)
def test_what_is_denied_or_harmless_is_not_told(said: str) -> None:
    assert found_in(said) == []


def test_what_the_check_of_the_draft_tells_is_not_told_twice() -> None:
    said = "Stir in 2 g of copper sulphate, put the wool back and hold for 10 minutes, dear reader."
    draft = drafted(RECIPE.format(said=said))
    judged = pipeline.read(draft.text, "the draft")
    assert any("copper-sulphate" in one.sentence for one in judged.findings)
    assert dangers(draft, judged) == []


def test_the_sentence_is_quoted_in_its_own_words() -> None:
    says = [one.says for one in found_in("He threw it all in and TASTED the bath, I saw it.")]
    assert any("“He threw it all in and TASTED the bath”" in one for one in says), says


def test_the_command_tells_it_first_and_the_draft_holds_it_at_its_end(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    prose = tmp_path / "letter.txt"
    prose.write_text(RECIPE.format(said="Hands: a little bleach takes the stain off."))
    out = tmp_path / "weld.dye"
    assert main(["draft", str(prose), "-o", str(out)]) == 1
    report = capsys.readouterr().out
    assert report.index("which no check sees:") < report.index("Warning.")
    assert "Error. bleach is only in free words here" in report
    assert "#     Error. bleach is only in free words here" in out.read_text()
    plain = [one.sentence for one in pipeline.read(out.read_text(), "weld.dye").findings]
    assert not any("cannot be read" in one for one in plain)
