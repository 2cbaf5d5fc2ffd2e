"""``vatwright new`` hands out what the checker has nothing against, or one sentence."""

from __future__ import annotations

import re
from fractions import Fraction
from pathlib import Path

import pytest
from new_bench import all_asked

from procedure import pipeline
from procedure.command.main import CANNOT_RUN, main
from procedure.findings import at_least
from procedure.start import Asked, NoMethod, made
from procedure.vocabulary import vocabulary


def _asked(fibre: str, dye: str, mordant: str | None, *, us: bool = False) -> Asked:
    words = vocabulary()
    dyestuff = words.material(dye)
    assert dyestuff is not None
    return Asked(
        "A trial",
        words.tables["fibres"][fibre],
        "yarn",
        Fraction(100),
        dyestuff,
        words.material(mordant) if mordant else None,
        us=us,
    )


def test_a_fair_sample_of_the_vocabulary() -> None:
    """Each gives a file without a warning, or says why not; both kinds are in the sample."""
    written, refused = 0, 0
    for asked in all_asked(79):
        try:
            text = made(asked)
        except NoMethod as reason:
            assert str(reason).endswith(".")
            refused += 1
            continue
        found = [one for one in pipeline.read(text).findings if at_least(one.level, "warning")]
        assert not found, text
        written += 1
    assert written > 10
    assert refused > 10


@pytest.mark.parametrize(
    ("fibre", "dye", "mordant"),
    [
        ("wool", "weld", "alum"),
        ("silk", "madder", "alum"),
        ("linen", "weld", "alum"),
        ("wool", "walnut", None),
        ("cotton", "madder", "alum"),
        ("wool", "onion", "iron"),
    ],
)
def test_methods_that_every_dyer_knows(fibre: str, dye: str, mordant: str | None) -> None:
    """Mairet 1938, ch. VII and VIII: weld, madder and onion on a mordant, walnut without."""
    made(_asked(fibre, dye, mordant))
    made(_asked(fibre, dye, mordant, us=True))


def test_plant_fibre_gets_tannin_before_alum() -> None:
    """Mairet 1938, ch. X: cotton is first steeped in tannin."""
    steps = made(_asked("cotton", "weld", "alum"))
    assert 0 < steps.index("tannin-bath: prepare") < steps.index("mordant-bath: prepare")
    assert "tannin-bath" not in made(_asked("wool", "weld", "alum"))


def test_the_amount_is_in_the_usual_range() -> None:
    """8 to 25 % of alum on protein (Mairet 1938, ch. II and VII)."""
    found = re.search(r"mordant-salt ([\d.]+) % of", made(_asked("wool", "weld", "alum")))
    assert found is not None
    assert 8 <= float(found[1]) <= 25


@pytest.mark.parametrize(
    ("given", "said"),
    [
        (["--dye", "weld", "--mordant", "none"], "alum would serve"),
        (["--fibre", "acrylic 50 g"], "takes no natural dye"),
        (["--dye", "indigo"], "vat"),
        (["--dye", "unicorn"], "no dyestuff is called"),
        (["--fibre", "100 parsecs of wool"], "no weight"),
        (["--mordant", "potassium dichromate"], "restricted"),
        (["-o", "x.txt"], "end in .dye"),
    ],
)
def test_what_cannot_be_begun(
    given: list[str], said: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["new", *given]) == CANNOT_RUN
    shown = capsys.readouterr()
    assert said in shown.err
    assert shown.err.count("\n") == 1
    assert not shown.out


def test_what_is_not_given_is_usual_where_nobody_can_answer(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    out = tmp_path / "first.dye"
    assert main(["new", "-o", str(out)]) == 0
    text = out.read_text(encoding="utf-8")
    assert "wool yarn, 100 g" in text
    assert "onion" in text
    assert main(["check", str(out)]) == 0
    assert main(["new", "-o", str(out)]) == CANNOT_RUN
    assert out.read_text(encoding="utf-8") == text
    capsys.readouterr()


def test_a_question_is_asked_on_a_terminal(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    asked: list[str] = []

    def answer(question: str) -> str:
        asked.append(question)
        return "linen cloth 200 g" if "fibre" in question else ""

    monkeypatch.setattr("sys.stdin.isatty", lambda: True, raising=False)
    monkeypatch.setattr("builtins.input", answer)
    assert main(["new", "--dye", "madder"]) == 0
    assert len(asked) == 2
    assert "linen cloth, 200 g" in capsys.readouterr().out


def test_a_blank_form_says_what_goes_where(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["new", "Mine", "--sections", "blank"]) == 0
    form = capsys.readouterr().out
    for section in ('procedure "Mine"', "fibre", "equipment", "materials", "steps"):
        assert re.search(rf"^{section}$", form, re.M)
    assert not [one for one in pipeline.read(form).findings if one.rule == "cannot-read"]
