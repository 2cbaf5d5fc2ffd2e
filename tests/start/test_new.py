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
from procedure.start import NoMethod, Wish, made
from procedure.vocabulary import vocabulary


def _asked(fibre: str, dye: str, mordant: str | None, *, units: str = "metric") -> Wish:
    words = vocabulary()
    dyestuff = words.material(dye)
    assert dyestuff is not None
    return Wish(
        "A trial",
        words.tables["fibres"][fibre],
        "yarn",
        Fraction(100),
        dyestuff,
        words.material(mordant) if mordant else None,
        units=units,
    )


def test_a_fair_sample_of_the_vocabulary() -> None:
    """Each gives a file without a warning, or says why not; both kinds are in the sample."""
    written, refused = 0, 0
    for asked in all_asked(251):
        try:
            text = made(asked)
        except NoMethod as reason:
            assert str(reason).endswith(".")
            assert "no sound method" not in str(reason)
            refused += 1
            continue
        found = [one for one in pipeline.read(text).findings if at_least(one.level, "warning")]
        assert not found, text
        written += 1
    assert written > 8
    assert refused > 8


@pytest.mark.exhaustive
def test_every_fibre_class_dyestuff_and_usual_mordant() -> None:
    """All of them: a file without a warning, or a reason of the trade in one sentence."""
    tried = 0
    for asked in all_asked():
        tried += 1
        try:
            text = made(asked)
        except NoMethod as reason:
            said = str(reason)
            assert said.endswith(".") and said.count(". ") == 0, said
            assert "no sound method" not in said, said
            continue
        found = [one for one in pipeline.read(text).findings if at_least(one.level, "warning")]
        assert not found, text
    assert tried > 7000


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
    made(_asked(fibre, dye, mordant, units="us"))


def _made(*given: str, capsys: pytest.CaptureFixture[str]) -> str:
    """What the command writes, which the checker has nothing against."""
    assert main(["new", *given]) == 0
    text = capsys.readouterr().out
    assert not [one for one in pipeline.read(text).findings if at_least(one.level, "warning")]
    return text


def test_indigo_is_dyed_in_a_vat_that_suits_the_fibre(
    capsys: pytest.CaptureFixture[str],
) -> None:
    """Mairet 1938, ch. V: wool in a vat of no more than 60 °C."""
    wool = _made("--dye", "indigo", capsys=capsys)
    assert "thiourea dioxide" in wool and "fructose" not in wool and "bag:" not in wool
    heats = [int(heat) for heat in re.findall(r"dip .* at (\d+) °C", wool)]
    assert heats and max(heats) <= 60
    cotton = _made("--dye", "woad", "--fibre", "cotton cloth 200 g", capsys=capsys)
    assert "fructose" in cotton and "woad powder" in cotton


def _vat_dyes() -> list[str]:
    dyes = vocabulary().tables["dyestuffs"].values()
    return sorted({one.name for one in dyes if one.facts["dye_class"] == "vat"})


@pytest.mark.parametrize(
    ("said", "line", "grams"),
    [
        ("wool yarn 100 g", "yarn: wool yarn, 100 g, scoured", 100),
        ("2 lb cotton cloth", "cloth: cotton cloth, 2 lb, scoured", 907),
        ("4 silk scarves of 20 g", "silk: silk scarves, 4 scarves of 20 g, scoured", 80),
        ("silk scarf, 4 x 20 g", "silk: silk scarf, 4 pieces of 20 g, scoured", 80),
        ("two skeins wool yarn, 50 g each", "yarn: wool yarn, two skeins of 50 g, scoured", 100),
        ("half a pound of merino yarn", "yarn: merino yarn, half a pound, scoured", 227),
        ("1 lb 4 oz wool yarn", "yarn: wool yarn, 1 lb 4 oz, scoured", 567),
        ("fleece wool 1 1/2 kg", "fleece: wool fleece, 1 1/2 kg, unscoured", 1500),
    ],
)
def test_an_answer_about_the_fibre_keeps_its_weight_and_its_pieces(
    said: str, line: str, grams: int, capsys: pytest.CaptureFixture[str]
) -> None:
    """The lot is declared in the words of the answer, and weighs what they say."""
    assert main(["new", "X", "--fibre", said, "--dye", "weld"]) == 0
    text = capsys.readouterr().out
    assert f"  {line}\n" in text
    (lot,) = dict(pipeline.read(text).model.lots).values()
    assert lot.weight is not None
    assert lot.weight.low is not None
    assert round(lot.weight.low) == grams


@pytest.mark.parametrize("units", ["metric", "us", "imperial"])
@pytest.mark.parametrize("fibre", ["wool yarn 8 oz", "cotton cloth 200 g"])
@pytest.mark.parametrize("dye", _vat_dyes())
def test_every_vat_dye_has_a_sound_vat_or_a_reason_of_the_trade(
    dye: str, fibre: str, units: str, capsys: pytest.CaptureFixture[str]
) -> None:
    """Reducer grows with the blue, alone and below another dye, in either units."""
    for dyes in (["--dye", dye], ["--dye", "madder", "--mordant", "alum", "--over", dye]):
        code = main(["new", "X", "--fibre", fibre, *dyes, "--units", units])
        said = capsys.readouterr()
        if code:
            assert "is not for a first vat" in said.err, said.err
            assert dye not in ("indigo", "woad")
            continue
        blue, reducer = (
            float(re.search(rf"(?:{word}) ([\d.]+) g/L", said.out)[1])  # type: ignore[index]
            for word in (dye, "reducer|fructose")
        )
        assert reducer >= blue
        found = pipeline.read(said.out).findings
        assert not [one for one in found if at_least(one.level, "warning")]


def test_iron_after_and_indigo_under(capsys: pytest.CaptureFixture[str]) -> None:
    text = _made("--dye", "weld", "--after", "iron", "--over", "indigo", capsys=capsys)
    order = [text.index(part) for part in ("dip yarn", "mordant yarn", "dye yarn", "modify yarn")]
    assert order == sorted(order)
    assert "ferrous sulphate" in text
    copper = _made("--dye", "weld", "--after", "copper", capsys=capsys)
    assert "collection of hazardous waste" in copper


def test_greasy_fibre_is_scoured_first(capsys: pytest.CaptureFixture[str]) -> None:
    assert "scour fleece" in _made("--fibre", "wool fleece 500 g", capsys=capsys)
    assert (
        "scour"
        not in _made("--fibre", "wool fleece 500 g scoured", capsys=capsys).split("steps")[1]
    )
    cotton = _made("--fibre", "cotton cloth 200 g unscoured", "--dye", "weld", capsys=capsys)
    assert "soda 4 % of cloth" in cotton


def test_pots_at_hand_are_used(capsys: pytest.CaptureFixture[str]) -> None:
    pots = "copper pot 9 L, stainless steel pot 10 L, enamel pot, 20 L, plastic bucket 12 L"
    text = _made("--pots", pots, capsys=capsys)
    assert "prepare in pot-2 with" in text
    assert "rinse yarn in pot-4 with" in text


def test_pots_of_the_workshop_are_used(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """They are named and not declared again; what is too small is said and replaced."""
    (tmp_path / "vatwright.toml").write_text(
        """[equipment]
kettle = "stainless steel pot, 15 L, lidded, for dyeing only"
bowl = "plastic tub, 12 L, for dyeing only"
net = "net bag, for dyeing only"
""",
        encoding="utf-8",
    )
    out = tmp_path / "weld.dye"
    assert main(["new", "--dye", "weld", "-o", str(out)]) == 0
    text = out.read_text(encoding="utf-8")
    assert "prepare in kettle with" in text and "in bowl with" in text and "through net" in text
    assert "equipment\n" not in text
    assert main(["check", str(out)]) == 0
    more = tmp_path / "more.dye"
    assert main(["new", "--fibre", "wool yarn 1 kg", "--dye", "weld", "-o", str(more)]) == 0
    text = more.read_text(encoding="utf-8")
    assert "The workshop has no pot of" in text and "stainless steel pot, 50 L" in text
    assert main(["check", str(more)]) == 0
    capsys.readouterr()


def test_a_faulty_workshop_file_is_told(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (tmp_path / "vatwright.toml").write_text("[equipment]\nkettle = 3\n", encoding="utf-8")
    assert main(["new", "-o", str(tmp_path / "weld.dye")]) == CANNOT_RUN
    assert "workshop file must be put right" in capsys.readouterr().err


def test_plant_fibre_gets_tannin_before_alum() -> None:
    """Mairet 1938, ch. X: cotton is first steeped in tannin."""
    steps = made(_asked("cotton", "weld", "alum"))
    assert 0 < steps.index("tannin-bath: prepare") < steps.index("alum-bath: prepare")
    assert "tannin-bath" not in made(_asked("wool", "weld", "alum"))


def test_only_a_salt_that_drains_take_stands_over_a_night() -> None:
    assert "cool alum-bath to 30 °C overnight covered" in made(_asked("wool", "weld", "alum"))
    assert "cool tin-bath to 30 °C covered" in made(_asked("wool", "cochineal", "tin"))


def test_nobody_has_to_sit_by_a_spent_vat() -> None:
    text = made(_asked("wool", "indigo", None))
    assert "once it has been stirred blue in the air" in text and "attended" not in text


def test_a_name_in_the_text_is_a_name_of_the_plant() -> None:
    text = made(_asked("wool", "dyer's chamomile", "alum"))
    assert "yellow-chamomile: yellow chamomile flowers" in text and "dyers" not in text


def test_the_amount_is_in_the_usual_range() -> None:
    """8 to 25 % of alum on protein (Mairet 1938, ch. II and VII)."""
    found = re.search(r"alum ([\d.]+) % of", made(_asked("wool", "weld", "alum")))
    assert found is not None
    assert 8 <= float(found[1]) <= 25


@pytest.mark.parametrize(
    ("given", "said"),
    [
        (["--dye", "weld", "--mordant", "none"], "wool takes it with alum"),
        (["--fibre", "acrylic 50 g"], "takes no natural dye"),
        (["--dye", "indigo", "--mordant", "alum"], "holds in a vat without a mordant"),
        (["--dye", "japanese indigo"], "indigo would serve"),
        (["--dye", "indigo", "--after", "iron"], "does nothing for the blue"),
        (["--over", "madder"], "no vat dye"),
        (["--after", "alum"], "iron would serve"),
        (["--dye", "indigo extract", "--fibre", "linen 50 g"], "in a vat would serve"),
        (["--dye", "orchil", "--fibre", "linen 50 g"], "would serve"),
        (["--dye", "box"], "no source says how much"),
        (["--fibre", "wool 60 kg"], "in lots of"),
        (["--pots", "stainless steel pot 2 L"], "none of these can take the bath"),
        (["--pots", "stainless steel pot 10 L"], "needs a tub or bucket"),
        (["--pots", "stainless steel pot 10 L for cooking, tub 10 L"], "never is again"),
        (["--pots", "something"], "is no pot"),
        (["--fibre", f"wool {10**400} g"], "no weight"),
        (["--fibre", "wool 0 g"], "no weight"),
        (["--mordant", "aluminium acetate"], "is used on cotton and linen"),
        (["--mordant", "zinc sulphate"], "no usual amount"),
        (["--dye", "unicorn"], "no dyestuff is called"),
        (["--dye", "oak gall"], "“oak gall” is a tannin and no dyestuff: name the dyestuff"),
        (["--dye", "alum"], "is a mordant and no dyestuff"),
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
    assert len(asked) == 7
    assert all("?" in question for question in asked)
    assert "linen cloth, 200 g" in capsys.readouterr().out


def test_a_slip_on_a_terminal_is_asked_again(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    typed = iter(["alpaca blankit", "alpaca yarn 1 lb", "walnuts", "walnut", "none"])
    monkeypatch.setattr("sys.stdin.isatty", lambda: True, raising=False)
    monkeypatch.setattr("builtins.input", lambda _: next(typed, ""))
    assert main(["new"]) == 0
    out = capsys.readouterr()
    assert "alpaca yarn, 1 lb" in out.out
    assert "no fibre is called “alpaca blankit”" in out.out + out.err
    assert "no mordant is called “walnut”" in out.out + out.err


@pytest.mark.parametrize("option", ["--dye", "--fibre", "--mordant", "--after", "--over", "--by"])
def test_an_answer_given_twice_is_not_dropped(
    option: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["new", option, "weld", option, "madder"]) == CANNOT_RUN
    assert f"{option} is given twice" in capsys.readouterr().err


def test_a_blank_form_says_what_goes_where(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["new", "Mine", "--sections", "blank"]) == 0
    form = capsys.readouterr().out
    for section in ('procedure "Mine"', "fibre", "equipment", "materials", "steps"):
        assert re.search(rf"^{section}$", form, re.M)
    assert not [one for one in pipeline.read(form).findings if one.rule == "cannot-read"]


AFTER = (None, "ferrous sulphate", "copper sulphate")
OVER = (None, "indigo", "woad")


@pytest.mark.exhaustive
@pytest.mark.parametrize("after", AFTER)
@pytest.mark.parametrize("over", OVER)
def test_after_baths_and_blues_under_every_tenth_dyestuff(
    after: str | None, over: str | None
) -> None:
    """Each gives a file without a warning, or a reason of the trade; none is only warned of."""
    words = vocabulary()
    for number, asked in enumerate(all_asked(30)):
        given = asked._replace(
            mordant=words.material("alum"),
            after=words.material(after) if after else None,
            over=words.material(over) if over else None,
            scoured=number % 2 == 0,
            units="us" if number % 3 == 0 else "metric",
        )
        try:
            text = made(given)
        except NoMethod as reason:
            assert "no sound method" not in str(reason), (given, str(reason))
            continue
        assert not [one for one in pipeline.read(text).findings if at_least(one.level, "warning")]
