"""Every construct of the grammar, as a line that a dyer may write and what it is read as."""

# A line and what it is read as are best kept side by side.
# ruff: noqa: E501

from __future__ import annotations

import pytest
from shapes import line_shape, lines_of, section_of, shape

from procedure.language import read
from procedure.language.table import table
from procedure.language.tree import Node

HEADERS = {
    'by "Fellside Dye Circle"': 'by("Fellside Dye Circle")',
    "revised 2026-06-14": "revised(2026-06-14)",
    "version 3": "version(3)",
    'version "third draft"': 'version("third draft")',
    "version 2026-06-14": "version(2026-06-14)",
    'source "our own workshop"': 'source("our own workshop")',
    'makes "two gold skeins"': 'makes("two gold skeins")',
    'licence "free to copy"': 'licence("free to copy")',
    "water rain": "water(words(rain))",
    "water hard": "water(words(hard))",
    "water hard, pH 8": "water(words(hard) quantity(acidity(range(8))))",
    "place outdoors": "place(words(outdoors))",
    "altitude 850 m": "altitude(quantity(measure(range(850) m)))",
    "wearing gloves, eye protection": "wearing(wordlist(words(gloves) words(eye protection)))",
    "audience beginners, children": "audience(wordlist(words(beginners) words(children)))",
    'note "bring a towel"': 'note("bring a towel")',
    'allow never-used because "for the next class"': 'header(allow(never-used "for the next class"))',
}

DECLARATIONS = {
    (
        "fibre",
        "yarn: wool yarn, 240 g, 4 skeins, scoured",
    ): "declaration(yarn: descriptor(words(wool yarn)) descriptor(quantity(measure(range(240) g)))"
    " descriptor(quantity(measure(range(4) skeins))) descriptor(words(scoured)))",
    (
        "fibre",
        "lengths: cotton cloth, 3 pieces of 120 g",
    ): "declaration(lengths: descriptor(words(cotton cloth))"
    " descriptor(quantity(measure(range(3) pieces) each_of(range(120) g))))",
    (
        "fibre",
        'yarn: wool, "from the grey ewe"',
    ): 'declaration(yarn: descriptor(words(wool)) descriptor(words("from the grey ewe")))',
    (
        "equipment",
        "hob: hotplate, 2 kW",
    ): "declaration(hob: descriptor(words(hotplate)) descriptor(quantity(measure(range(2) kW))))",
    (
        "equipment",
        "kettle: 15 L stainless steel pot",
    ): "declaration(kettle: descriptor(quantity(measure(range(15) L)) words(stainless steel pot)))",
    (
        "materials",
        "tansy: tansy tops, fresh, gathered 2026-06-12",
    ): "declaration(tansy: descriptor(words(tansy tops)) descriptor(words(fresh))"
    " descriptor(words(gathered 2026-06-12)))",
    (
        "materials",
        "vinegar: vinegar, solution 5 % by volume",
    ): "declaration(vinegar: descriptor(words(vinegar))"
    " descriptor(words(solution) quantity(measure(range(5) %)) words(by volume)))",
    (
        "materials",
        'alum: potassium alum allow never-used because "spare"',
    ): 'declaration(alum: descriptor(words(potassium alum)) allow(never-used "spare"))',
    (
        "materials",
        'allow never-used because "a list to choose from"',
    ): 'declaration(allow(never-used "a list to choose from"))',
}

# One line for each verb form and clause; the amounts stand further down.
STEPS = {
    "lift yarn": "step(lift objects(object(yarn)))",
    "soak: wet out yarn in tub": "step(soak: wet out objects(object(yarn)) in_clause(object(tub)))",
    "rinse gold, moss": "step(rinse objects(object(gold) object(moss)))",
    "rinse gold and moss": "step(rinse objects(object(gold) both() object(moss)))",
    "split yarn into gold 120 g, moss 120 g": "step(split objects(object(yarn)) into_clause(objects("
    "object(gold quantity(measure(range(120) g)))"
    " object(moss quantity(measure(range(120) g))))))",
    "lift yarn from kettle": "step(lift objects(object(yarn)) from_clause(object(kettle)))",
    "wash yarn with soap, vinegar": "step(wash objects(object(yarn)) with_clause(objects(object(soap) object(vinegar))))",
    "dye yarn in vat at simmer": "step(dye objects(object(yarn)) in_clause(object(vat))"
    " at_clause(object(quantity(heat(simmer)))))",
    'discard alum-bath to "foul drain"': 'step(discard objects(object(alum-bath)) to_clause(object("foul drain")))',
    "heat vat over 45 min": "step(heat objects(object(vat)) over_clause(quantity(measure(range(45) min))))",
    "hold vat for 1 h": "step(hold objects(object(vat)) for_clause(quantity(measure(range(1) h))))",
    'rinse yarn until "the water runs clear"': 'step(rinse objects(object(yarn)) until_clause(object("the water runs clear")))',
    "dry yarn after soak, last and third": "step(dry objects(object(yarn)) after_clause(names(soak last third)))",
    "heat vat on hob": "step(heat objects(object(vat)) on_clause(hob))",
    "strain vat through muslin": "step(strain objects(object(vat)) through_clause(muslin))",
    "dry yarn wearing gloves, eye protection": "step(dry objects(object(yarn))"
    " wearing_clause(namelist(phrase(gloves) phrase(eye protection))))",
    "keep vat as old-vat": "step(keep objects(object(vat)) as_clause(old-vat))",
    'dry yarn note "in the shade"': 'step(dry objects(object(yarn)) note_clause("in the shade"))',
    "cool vat overnight covered": "step(cool objects(object(vat)) manner_clause(overnight) manner_clause(covered))",
    'dry yarn allow time-unstated because "as the weather is"': 'step(dry objects(object(yarn)) clause(allow(time-unstated "as the weather is")))',
    'allow loose-measure because "it does not matter here"': 'step(allow(loose-measure "it does not matter here"))',
    'do "tie the skeins" with yarn': 'do("tie the skeins" with_clause(objects(object(yarn))))',
    'tie: do "tie the skeins"': 'do(tie: "tie the skeins")',
    'follow "wash.dye" with yarn = moss, kettle = pot-2': 'follow("wash.dye" with_clause(objects(binding(yarn moss) binding(kettle pot-2))))',
    'washing: follow "wash.dye"': 'follow(washing: "wash.dye")',
    "repeat 3 times": "repeat(rounds(3))",
    "repeat 2 to 4 times": "repeat(rounds(2 to 4))",
    'repeat 3 times until "it is blue"': 'repeat(rounds(3) "it is blue")',
    "repeat at least 3 times": "repeat(rounds(at least 3))",
    "repeat 3 times or more": "repeat(rounds(3 or more))",
    "repeat twice": "repeat(rounds(twice))",
    "dips: repeat twice": "repeat(dips: rounds(twice))",
    'repeat every 6 to 8 min until "it is blue"': "repeat(every(quantity(measure(range(6 to 8) min)))"
    ' "it is blue")',
    "air yarn as long as dipped": "step(air objects(object(yarn)) as_long_clause(as long as dipped))",
    "dye yarn in vat at 50 °C never above 60 °C": "step(dye objects(object(yarn)) in_clause(object(vat))"
    " at_clause(object(quantity(measure(range(50) °C))))"
    " limit_clause(limit(never above measure(range(60) °C))))",
    "add 5 g tartar to vat": "step(add objects(object(quantity(measure(range(5) g)) tartar))"
    " to_clause(object(vat)))",
    'dips: repeat until "it is blue"': 'repeat(dips: "it is blue")',
    'if "the green is too yellow"': 'choice("the green is too yellow")',
    'second: if "it is pale"': 'choice(second: "it is pale")',
    'either "a warm grey"': 'either(either "a warm grey")',
    'or "a cool grey"': 'or(or "a cool grey")',
    "meanwhile": "meanwhile()",
    "for each colour in gold, moss": "each(colour objects(object(gold) object(moss)))",
    "colours: for each colour in gold": "each(colours: colour objects(object(gold)))",
}

AMOUNTS = {
    "240 g": "quantity(measure(range(240) g))",
    "1/2 L": "quantity(measure(range(1/2) L))",
    "1 1/2 L": "quantity(measure(range(1 1/2) L))",
    "1½ L": "quantity(measure(range(1½) L))",
    ".5 L": "quantity(measure(range(.5) L))",
    "1.25 kg": "quantity(measure(range(1.25) kg))",
    "8 to 10 g": "quantity(measure(range(8 to 10) g))",
    "8–10 g": "quantity(measure(range(8 – 10) g))",
    "about 10 g": "quantity(measure(about range(10) g))",
    "1 lb 4 oz": "quantity(measure(range(1) lb 4 oz))",
    "2 US gal": "quantity(measure(range(2) US gal))",
    "12 % of yarn": "quantity(measure(range(12) %) base(yarn))",
    "12 % wof": "quantity(measure(range(12) %) base(wof))",
    "12 % owf": "quantity(measure(range(12) %) base(owf))",
    "5 : 1 of yarn": "quantity(ratio(range(5) 1) base(yarn))",
    "20 to 30 : 1 of yarn": "quantity(ratio(range(20 to 30) 1) base(yarn))",
    "2 g/L": "quantity(measure(range(2) g/L))",
    "1/4 of alum-bath": "quantity(bare(range(1/4)) base(alum-bath))",
    "7": "quantity(bare(range(7)))",
    "1 kg (2.2 lb)": "quantity(measure(range(1) kg) reading(measure(range(2.2) lb)))",
    "pH 9": "quantity(acidity(range(9)))",
    "pH 9 to 10": "quantity(acidity(range(9 to 10)))",
    "some": "quantity(loose(some))",
    "a handful": "quantity(measure(range(a) handful))",
    "a few handfuls": "quantity(loose(a few handfuls))",
    "unstated": "quantity(unstated(unstated))",
    "at least 5 g": "quantity(at least measure(range(5) g))",
    "5 g or more": "quantity(measure(range(5) g) or more)",
    "1 lb to 1 lb 4 oz": "quantity(measure(range(1) lb to 1 lb 4 oz))",
    "half of yarn": "quantity(bare(range(half)) base(yarn))",
    "half the weight of yarn": "quantity(bare(range(half)) base(yarn))",
    "4 oz per lb of yarn": "quantity(measure(range(4) oz) per(per lb yarn))",
    "1 oz to the gallon (imp)": "quantity(measure(range(1) oz) per(to the gallon (imp)))",
}


@pytest.mark.parametrize(("line", "read_as"), HEADERS.items())
def test_header_line(line: str, read_as: str) -> None:
    assert line_shape("header", line) == read_as


@pytest.mark.parametrize(("said", "read_as"), DECLARATIONS.items())
def test_declaration(said: tuple[str, str], read_as: str) -> None:
    assert line_shape(*said) == read_as


@pytest.mark.parametrize(("line", "read_as"), STEPS.items())
def test_step(line: str, read_as: str) -> None:
    assert line_shape("steps", line) == read_as


@pytest.mark.parametrize(("amount", "read_as"), AMOUNTS.items())
def test_amount(amount: str, read_as: str) -> None:
    wanted = f"step(wash objects(object(yarn)) with_clause(objects(object(soap {read_as}))))"
    assert line_shape("steps", f"wash yarn with soap {amount}") == wanted


@pytest.mark.parametrize("wait", ["overnight", "until-next-day"])
def test_a_named_wait_is_a_time_after_for_and_a_manner_by_itself(wait: str) -> None:
    said = f"for_clause(quantity(wait({wait})))"
    assert (
        line_shape("steps", f"stand vat for {wait}") == f"step(stand objects(object(vat)) {said})"
    )
    said = f"manner_clause({wait})"
    assert line_shape("steps", f"stand vat {wait}") == f"step(stand objects(object(vat)) {said})"


def test_title_and_sections() -> None:
    tree = read('procedure "Gold"\nfibre\nequipment:\nmaterials\nsteps\n')
    assert tree.faults == []
    assert [section.name for section in tree.sections] == [
        "procedure",
        "fibre",
        "equipment",
        "materials",
        "steps",
    ]
    assert tree.sections[0].title is not None
    assert shape(tree.sections[0].title) == 'title("Gold")'


def test_nothing_of_the_grammar_is_left_out_here() -> None:
    kinds = {"title", "section"}
    clauses = [("header", line) for line in HEADERS] + list(DECLARATIONS)
    clauses += [("steps", line) for line in STEPS]
    clauses += [("steps", f"wash yarn with soap {amount}") for amount in AMOUNTS]
    clauses += [("steps", "stand vat for overnight")]
    for heading, line in clauses:
        node = section_of(heading, line).lines[0].node
        assert node is not None
        nodes: list[Node] = [node]
        while nodes:
            here = nodes.pop()
            kinds.add(here.kind)
            nodes += [child for child in here.children if isinstance(child, Node)]
    in_grammar = {rule.kind for rule in table().rules if not rule.origin.startswith("_")}
    assert in_grammar <= kinds


# ------------------------------------------------------------ blocks and continuation


def test_a_deeper_line_goes_on_with_a_step() -> None:
    section = section_of(
        "steps", "dye yarn in vat at 50 °C\n    for 5 min\n      wearing gloves\ndry yarn"
    )
    assert [line.node and shape(line.node) for line in section.lines] == [
        "step(dye objects(object(yarn)) in_clause(object(vat))"
        " at_clause(object(quantity(measure(range(50) °C))))"
        " for_clause(quantity(measure(range(5) min))) wearing_clause(namelist(phrase(gloves))))",
        "step(dry objects(object(yarn)))",
    ]


def test_a_deeper_line_goes_on_with_a_declaration() -> None:
    section = section_of("fibre", "yarn: wool yarn,\n    240 g,\n    scoured\nsilk: silk yarn")
    assert len(section.lines) == 2
    assert line_shape("fibre", "yarn: wool yarn,\n    240 g,\n    scoured") == line_shape(
        "fibre", "yarn: wool yarn, 240 g, scoured"
    )


def test_blocks_stand_inside_one_another_by_indentation() -> None:
    section = section_of(
        "steps",
        'repeat 3 times\n  dip moss in vat\n  if "too pale"\n    air moss\n  squeeze moss\ndry moss',
    )
    outer, last = section.lines
    assert outer.opens == "repeat" and last.opens == ""
    assert [line.opens for line in outer.block] == ["", "if", ""]
    assert len(outer.block[1].block) == 1
    assert len(list(lines_of(section.lines))) == 6


def test_a_line_that_stands_less_deep_closes_blocks_even_off_the_grid() -> None:
    section = section_of("steps", "repeat 3 times\n     dip moss in vat\n   air moss\ndry moss")
    assert [len(section.lines), len(section.lines[0].block)] == [2, 2]


def test_a_comment_or_an_empty_line_between_changes_nothing() -> None:
    section = section_of("steps", "dye yarn in vat # the big one\n\n# at the margin\n    for 5 min")
    assert [line.node and shape(line.node) for line in section.lines] == [
        "step(dye objects(object(yarn)) in_clause(object(vat))"
        " for_clause(quantity(measure(range(5) min))))"
    ]


def test_a_number_sign_inside_quotation_marks_is_no_comment() -> None:
    assert line_shape("steps", 'do "use pot # 4"') == 'do("use pot # 4")'


@pytest.mark.parametrize("word", ["in", "inches"])
def test_in_is_an_inch_after_a_number_and_a_clause_before_a_pot(word: str) -> None:
    assert line_shape("steps", "wash yarn with soap 5 g in tub").endswith("in_clause(object(tub)))")
    assert line_shape("fibre", f"yarn: wool cloth, 60 {word}").endswith(
        f"descriptor(quantity(measure(range(60) {word}))))"
    )


def test_words_of_the_language_stand_inside_names_without_harm() -> None:
    assert line_shape("steps", "prepare-bath: prepare in pot-for-two") == (
        "step(prepare-bath: prepare in_clause(object(pot-for-two)))"
    )
