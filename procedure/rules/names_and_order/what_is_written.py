"""Words and clauses: what is written can be read, and says what it needs to."""

from __future__ import annotations

import re
from collections.abc import Container, Iterator, Mapping
from fractions import Fraction
from operator import attrgetter

from procedure.facts.study import Study
from procedure.findings import Count, Says, Several, Value, Word, listed, plainly_said, say
from procedure.flow import FlowNode, Slip
from procedure.flow.graph import WATER
from procedure.flow.names import ANOTHER_BATH, ONE_BAG, ONE_BATH
from procedure.language import Fault, Line
from procedure.language.reading import DEEPEST
from procedure.model import Block, Item, Lot, Material, Name, Place, Procedure, Quantity, Step
from procedure.model.describing import TABLES
from procedure.model.types import FIELD_OF, UnknownWord
from procedure.rules.names_and_order.one_name_each import by_kind
from procedure.rules.rule import Found, at_node, from_slip, rule
from procedure.vocabulary import vocabulary
from procedure.vocabulary.everyday import readings_of
from procedure.vocabulary.library import MOST_GUESSED
from procedure.vocabulary.suggestions import part_alone
from procedure.vocabulary.thresholds import threshold
from procedure.wording.samples import shown

FAMILY = "names and order"


@rule("cannot-read", level="error", family=FAMILY, source="the language reference")
def cannot_read(study: Study) -> Iterator[Found]:
    """A line that is not in the language.

    What cannot be read is not checked, so a fault may hide in it.

    Trips:
        wet out yarn in tub with water 5 L fro 1 h
    Cure:
        wet out yarn in tub with water 5 L for 1 h
    """
    for procedure in study.procedures:
        for fault in study.trees[procedure.key].faults:
            from procedure.rules import edits

            place = Place(fault.line, fault.column, fault.to)
            edit = edits.of_fault(procedure, fault)
            remedy = _in_own_names(study, procedure, fault)
            yield Found(procedure, place, fault.sentence, remedy, edit=edit)
        for section in study.trees[procedure.key].sections:
            yield from _empty_blocks(procedure, section.lines, 1)


def _in_own_names(study: Study, procedure: Procedure, fault: Fault) -> Says:
    """The remedy of a line that cannot be read, its example with the names of the text."""
    own = _own_names(study, procedure, fault.line)
    template = fault.remedy.template
    values: list[tuple[str, Value]] = []
    for name, thing in own.items():
        alone = r"(?<![\w{-])" + name + r"(?![\w}-])"
        if "“" + thing + "”" in template or thing == name or not re.search(alone, template):
            continue
        field = "own_" + name.replace("-", "_")
        template = re.sub(alone, "{" + field + "}", template)
        values.append((field, Word(thing)))
    return fault.remedy._replace(template=template, values=(*fault.remedy.values, *values))


def _own_names(study: Study, procedure: Procedure, line: int) -> dict[str, str]:
    """What the names of examples are in a text: the last bath above a line, a lot, a vessel."""
    steps = [node.step for node in study.flow.nodes if node.procedure is procedure]
    made = [step.label.text for step in steps if _makes_above(step, line) and step.label]
    known = {*procedure.lots, *procedure.equipment, *made}
    tubs = [pot.name.text for pot in procedure.equipment.values() if pot.holds and not pot.bag]
    firsts = {"dye-bath": made[-1:], "yarn": list(procedure.lots), "tub": tubs}
    return {name: found[0] for name, found in firsts.items() if found and name not in known}


def _makes_above(step: Step | Block, line: int) -> bool:
    return isinstance(step, Step) and step.does.makes_bath and step.place.line < line


def _empty_blocks(procedure: Procedure, lines: list[Line], deep: int) -> Iterator[Found]:
    """Blocks that nothing is in: their steps are not indented."""
    for line in lines:
        if line.opens and not line.block and line.node is not None and deep < DEEPEST:
            from procedure.language.faults import nothing_below

            fault = nothing_below(line)
            place = Place(fault.line, fault.column, fault.to)
            yield Found(procedure, place, fault.sentence, fault.remedy)
        yield from _empty_blocks(procedure, line.block, deep + 1)


@rule("no-procedure", level="error", family=FAMILY, source="the language reference")
def no_procedure(study: Study) -> Iterator[Found]:
    """A text without a title, or without any steps.

    There is nothing to follow in it.

    Trips:
        procedure "An example"
        steps
    Cure:
        procedure "An example"
        steps
          do "hang up the apron"
    """
    for procedure in study.procedures:
        tree = study.trees[procedure.key]
        names = {section.name for section in tree.sections}
        steps = [section for section in tree.sections if section.name == "steps"]
        here = Place(1, 1, 2)
        if not tree.sections:
            if not tree.faults:
                yield Found(
                    procedure,
                    here,
                    "There is no procedure in this text.",
                    'Begin it with a line such as: procedure "Golden onion skins".',
                )
            continue
        if procedure.title is None and not any(
            section.name == "procedure" and section.heading.text for section in tree.sections
        ):
            yield Found(
                procedure,
                here,
                "The procedure has no title.",
                'Begin it with a line such as: procedure "Golden onion skins".',
            )
        if "steps" not in names or not any(section.lines for section in steps):
            place = Place(tree.sections[-1].heading.line, 1, 2)
            yield Found(
                procedure,
                place,
                "The procedure has no steps.",
                "Write a section “steps” with a line for each thing to do.",
            )


@rule("unknown-word", level="warning", family=FAMILY, source="the vocabulary")
def unknown_word(study: Study) -> Iterator[Found]:
    """A word in a declaration or a header line that the vocabulary does not know.

    What is not known cannot be checked: not its hazards, its heat or its mordant.

    Trips:
        materials
          weld: wled, dried
        steps
          gold-bath: prepare in kettle with water 3 L, weld 50 g
          discard gold-bath to "foul drain"
    Cure:
        materials
          weld: weld, dried
        steps
          gold-bath: prepare in kettle with water 3 L, weld 50 g
          discard gold-bath to "foul drain"
    """
    for procedure in study.procedures:
        own = _lines_of_their_own(procedure)
        astray = {one.word.place.line for one in procedure.unknown if _is_equipment(one)} - own
        told: set[int] = set()
        bounded = {
            word.place.line: word
            for word, section, *_ in reversed(procedure.unknown)
            if section in _DECLARED and word.text in _BOUNDS_FOR_SURE
        }
        yield from (_bounded(procedure, word) for word in bounded.values())
        bare = {one.line for one in procedure.materials.values() if not (one.roles or one.words)}
        for number, (word, section, nearest, ask, _, to) in enumerate(procedure.unknown):
            line = word.place.line
            if line in astray:
                if line not in told:
                    told.add(line)
                    yield _astray(procedure, word, section)
                continue
            remedy = Says("Put words that are only for the reader into quotation marks.")
            if ask or (line in bounded and word.text in _BOUND_WORDS):
                continue  # what it may be harms, and a rule of safety asks; or it is told above
            elsewhere = _belongs(word.text, section)
            if elsewhere:
                remedy = Says(elsewhere)
            elif nearest is not None:
                remedy = say("Did you mean “{nearest}”?", nearest=nearest)
            elif section == "as long as":
                remedy = Says("Say the time: “for 10 min”.")
            elif section in _ONE_OF:
                remedy = say("Write one of: {known}.", known=_ONE_OF[section])
            elif section == "materials" and part_alone(word.text):
                remedy = Says("Say of which plant, and declare it by that plant's name.")
            elif section == "materials":
                remedy = Says(
                    "Say what part it plays, such as dyestuff, mordant, acid or alkali; put words "
                    "that are only for the reader into quotation marks."
                )
            from procedure.rules import edits

            guessed = number < MOST_GUESSED
            edit = edits.of_word(word, TABLES.get(section, (section,))) if guessed else None
            sentence = say("I do not know the word “{word}”.", word=word.text)
            level = "error" if _whole(bare, word, section) else "warning"
            place = word.place._replace(to=max(word.place.to, to))
            yield Found(procedure, place, sentence, remedy, edit=edit, level=level)


# The few words of a header line, for one that is none of them.
_DECLARED = frozenset(("fibre", "equipment", "materials"))
# What bounds an amount in a step; a declaration says how much there is.
_BOUNDS_FOR_SURE = frozenset("most least up more less than over under".split())
_BOUND_WORDS = _BOUNDS_FOR_SURE | {"at", "to", "no", "not", "or"}
_ONE_OF = {
    "place": "outdoors, ventilated or indoors",
    "wearing": "gloves, eye protection, mask, apron, boots or face shield",
    "audience": "beginners, children, adults or experienced dyers",
}


def _bounded(procedure: Procedure, word: Name) -> Found:
    return Found(
        procedure,
        word.place,
        "A declaration says how much there is, and takes no bound of it.",
        "Write one amount, or a range such as “4 to 6 lb”; a bound is for the reader, in quotation "
        "marks.",
        level="warning",
    )


def _lines_of_their_own(procedure: Procedure) -> set[int]:
    """The lines that surely declare fibre or a material, whatever else they name."""
    lots = (one.line for one in procedure.lots.values() if one.fibres and one.weight is not None)
    return {one.line for one in procedure.materials.values() if one.entry or one.roles} | {*lots}


def _is_equipment(one: UnknownWord) -> bool:
    """True for the pots, bags and tools that are among the materials or the fibre."""
    found = vocabulary().find(one.word.text, "vessel", "heater", "tool")
    return one.section in ("materials", "fibre") and found is not None


def _astray(procedure: Procedure, word: Name, section: str) -> Found:
    """A pot or a tool that is declared in another section: it is told of once.

    Its name is in the line of the word, or in one that this line continues.
    """
    named = [one.name for one in procedure.materials.values()]
    named += [one.name for one in procedure.lots.values()]
    named += [second for second, _ in procedure.declared_twice]
    above = [one for one in named if one.place.line <= word.place.line]
    name = max(above, key=lambda one: one.place.line, default=word)
    return Found(
        procedure,
        name.place,
        say(
            "{name} is a pot, bag or tool, and is declared under “{section}”.",
            name=Word(name.text),
            section=section,
        ),
        "Move the line to the section “equipment”.",
        level="error",
    )


def _whole(bare: Container[int], word: Name, section: str) -> bool:
    """Whether nothing else is known of what the word stands for, so that hands go bare.

    What is worn is one; a material of which no word is known, nor what part it plays, is another:
    ``bare`` are the lines of those.
    """
    return section == "wearing" or (section == "materials" and word.place.line in bare)


# What to do with a word that is known, and is said in another place.
_PLACES = (
    (("wearing",), "It is worn: write it in the header or after a step, as in “wearing gloves”."),
    (("vessel", "heater", "tool"), "Pots and tools belong in the section “equipment”."),
    (("fibres",), "Fibre to be dyed belongs in the section “fibre”."),
    (("place",), "Where it is done belongs in the header, as in “place outdoors”."),
    (("manner",), "How a step is done comes after the step."),
)


def _belongs(word: str, section: str) -> str:
    """Where a word belongs that the vocabulary knows in another part of the text."""
    here = TABLES.get(section, (section,))
    for tables, said in _PLACES:
        if not set(tables) & set(here) and vocabulary().find(word, *tables) is not None:
            return said
    return ""


def _in_the_trade(material: Material) -> Says | str:
    """What to write of a material that is not said to be anything."""
    name = material.name.text
    words = name.replace("-", " ")
    known = vocabulary().material(words)
    if known is None or known.words("hazards"):
        return "Write its name in the trade, or a part such as dyestuff, mordant or acid."
    called = words if known.table == "dyestuffs" else known.name
    return say("Write what it is: “{label}: {name}”.", label=name, name=called)


@rule("part-unstated", level="warning", family=FAMILY, source="the vocabulary")
def part_unstated(study: Study) -> Iterator[Found]:
    """A material or a lot of which nothing is known, not even the part it plays.

    Nothing about it can be checked.

    Trips:
        materials
          heather: fresh
        steps
          brown-bath: prepare in kettle with water 3 L, heather 50 g
          discard brown-bath to "foul drain"
    Cure:
        materials
          heather: dyestuff, fresh
        steps
          brown-bath: prepare in kettle with water 3 L, heather 50 g
          discard brown-bath to "foul drain"
    """
    for procedure in study.procedures:
        lines = {one.word.place.line for one in procedure.unknown}
        for material in procedure.materials.values():
            if not material.roles and material.line not in lines:
                yield Found(
                    procedure,
                    material.name.place,
                    say(
                        "It is not said what {material} is, or what part it plays.",
                        material=material.name.text,
                    ),
                    _in_the_trade(material),
                )
        for lot in procedure.lots.values():
            if not lot.fibres and lot.line not in lines:
                yield Found(
                    procedure,
                    lot.name.place,
                    say("It is not said what fibre {lot} is.", lot=lot.name.text),
                    "Write the fibre, such as wool, silk, cotton or linen.",
                )


@rule("said-twice", level="error", family=FAMILY, source="the language reference")
def said_twice(study: Study) -> Iterator[Found]:
    """A step with the same clause twice.

    The reader cannot tell which one counts.

    Trips:
        wet out yarn in tub with water 5 L for 1 h for 2 h
    Cure:
        wet out yarn in tub with water 5 L for 1 h
    """
    for moment in study.moments:
        for name in moment.step.twice:
            yield Found(
                moment.node.procedure,
                name.place,
                say("This step says “{name}” twice.", name=name.text),
                "Keep one of the two.",
                moment.node.calls,
            )


_VALUES = attrgetter(*FIELD_OF.values())


# Slips of what a step is done to; that a bath is left over in the end tells nothing of it.
_OF_WHAT_IT_IS = (
    "wrong kind",
    "not declared",
    "used before made",
    "used after emptied",
    "empty pot",
)


@rule("clause-out-of-place", level="error", family=FAMILY, source="the language reference")
def clause_out_of_place(study: Study) -> Iterator[Found]:
    """A clause that means nothing with its verb, as in: clean the kettle at 30 °C.

    It is not followed, so what the writer meant by it is lost.

    Trips:
        rinse yarn in tub with water 5 L over 20 min
    Cure:
        rinse yarn in tub with water 5 L for 20 min
    """
    unsure = {slip.node.id for slip in study.slips(*_OF_WHAT_IT_IS) if slip.node is not None}
    astray = {slip.node.id for slip in study.slips("wrong kind") if slip.node is not None}
    for moment in study.moments:
        step = moment.step
        if step.verb is None:
            continue
        said_so = step.word == step.verb.name and not readings_of(step.word)
        if moment.node.id in (astray if said_so else unsure):
            continue  # an everyday verb is read by what it is done to, and that is not known
        may = step.verb.may
        for clause, value in zip(FIELD_OF, _VALUES(step), strict=True):
            if not value or clause in may:
                continue
            if clause == "on" and step.does.over_heat:
                continue
            if clause == "with" and all(_is_tool(study, moment.node, item) for item in step.using):
                continue  # lift yarn with tongs
            place = step.place
            first = value[0] if clause in ("into", "with") else value
            place = first.place
            yield Found(
                moment.node.procedure,
                place,
                say("“{clause}” means nothing with “{verb}”.", clause=clause, verb=step.verb.name),
                say(
                    "{Verb} may have: {clauses}.",
                    verb=step.verb.name,
                    clauses=listed(sorted(step.verb.may), last=", "),
                )
                if step.verb.may
                else "Remove it.",
                moment.node.calls,
            )


@rule("wrong-kind-of-thing", level="error", family=FAMILY, source="the language reference")
def wrong_kind_of_thing(study: Study) -> Iterator[Found]:
    """A name of the wrong kind: a pot where fibre belongs, and so on.

    It cannot be done as written.

    Trips:
        wet out tub in tub with water 5 L for 1 h
    Cure:
        wet out yarn in tub with water 5 L for 1 h
    """
    for slip in study.slips("wrong kind"):
        if slip.node is not None and any(_counted(slip.node)):
            continue  # some skeins: see part-of-a-lot
        if slip.node is not None and _unknown_amount(slip.node, slip.name):
            continue  # 6 stones: see unknown-unit
        text = say("“{name}” is not", name=slip.name.text) if slip.name.text else "This is not"
        yield from_slip(
            study,
            slip,
            say(
                "{that} what belongs here, which is {wanted}.",
                that=text,
                wanted=plainly_said(slip.wanted),
            ),
            _done_before(study, slip) or _of_that_kind(study, slip),
        )


def _unknown_amount(node: FlowNode, name: Name) -> bool:
    """True where an amount in a unit that is none stands for a thing."""
    step = node.step
    items = (*step.objects, *step.using, *step.into) if isinstance(step, Step) else ()
    return any(
        item.quantity is not None and item.quantity.kind == "unknown" and item.place == name.place
        for item in items
    )


def _is_tool(study: Study, node: FlowNode, item: Item) -> bool:
    """True for the tongs or the stick that a step is done with."""
    pot = study.flow.pots.get(node.names.get(item.name.text, "")) if item.name else None
    return pot is not None and not pot[0].holds and not pot[0].bag and item.quantity is None


def _where_it_is(study: Study, slip: Slip) -> Says | None:
    """What to write where fibre or plants are named, and the bath that they are in is meant."""
    name, step = slip.name.text, slip.node.step if slip.node is not None else None
    pots = [pot.name.text for pot in slip.procedure.equipment.values() if pot.holds and not pot.bag]
    bath = next(iter([*_before(study, slip)][-1:]), "")
    if not isinstance(step, Step):
        return None
    if name == WATER and pots:
        return shown(
            "Make a bath of it: “prepare in {vessel} with water {much_water}”.", vessel=pots[0]
        )
    if name in slip.procedure.materials and pots:
        return shown(
            "Say in how much water: “prepare in {vessel} with water {much_water}, {name}”.",
            vessel=pots[0],
            name=name,
        )
    if name not in slip.procedure.lots or not bath:
        return None
    if any("lot" in one.of for one in readings_of(step.word)):
        return say(
            "Say in which bath: “{verb} {name} in {bath}”.", verb=step.word, name=name, bath=bath
        )
    things = [item.name.text for item in step.objects if item.name is not None]
    if step.does.adds and things and name not in things:  # sprinkle copperas over yarn
        return say("It goes into a bath: “add {what} to {bath}”.", what=things[0], bath=bath)
    return say("Name the bath: “{verb} {bath}”.", verb=step.word, bath=bath)


def _bath_of_it(study: Study, slip: Slip) -> Says:
    """What to write where a material is named in the place of the bath that is made with it."""
    name = slip.name.text
    named = [bath for bath in _before(study, slip) if bath.startswith(name + "-")]
    if named:
        return say("Write the name of the bath: “{bath}”.", bath=named[-1])
    return shown(
        "Make a bath with it first: “{label}: prepare in pot with water {much_water}, {name}”.",
        label=name + "-bath",
        name=name,
    )


def _over_the_whole(part: str) -> bool:
    """True for “3/2” and “150 %”, of which there is no part."""
    from procedure.model.quantity import number

    said, percent, _ = part.partition("%")
    try:
        return number(said.strip()).value > (100 if percent else 1)
    except (ValueError, ZeroDivisionError):
        return False


def _done_before(study: Study, slip: Slip) -> Says | None:
    """What to write for a share of a lot, for a material beside fibre, or for several baths in one
    step; None for any other thing."""
    if slip.wanted in (ONE_BATH, ONE_BAG):
        each = "bath" if slip.wanted == ONE_BATH else "bag"
        return say("Write it again on a line of its own for each {thing}.", thing=each)
    if slip.wanted == ANOTHER_BATH:
        return Says(
            "It is there already: leave this step out, or strain it into another pot first."
        )
    prepares = slip.node is not None and slip.node.does.prepares
    if prepares and slip.wanted == "a material" and slip.name.text not in slip.procedure.lots:
        return say(
            "A bath has its name in front, and a colon: “{name}: prepare in ...”.",
            name=slip.name.text,
        )
    if slip.wanted == "a bath" and (said := _where_it_is(study, slip)) is not None:
        return said
    if slip.wanted == "a bath or a pot" and slip.name.text in slip.procedure.materials:
        return _bath_of_it(study, slip)
    part, of, lot = slip.name.text.rpartition(" of ")
    if of and slip.wanted == "a lot of fibre" and lot in slip.procedure.lots:
        if _over_the_whole(part):
            return say("That is more than the whole of {lot}: write a smaller share.", lot=lot)
        return say(
            "Part it on a line before it goes in, “split {lot} into part-one {part} of {lot}, "
            "part-two”, and write “part-one” here.",
            lot=lot,
            part=part,
        )
    if of and slip.wanted == "a lot of fibre" and lot in _PIECES and slip.procedure.lots:
        return _of_the_pieces(slip.procedure.lots, part, lot)
    step = slip.node.step if slip.node is not None else None
    within = step.within if isinstance(step, Step) else None
    if within is None or within.name is None or slip.wanted != "a lot of fibre":
        return None
    if slip.name.text not in slip.procedure.materials:
        return None
    return say(
        "Put it into the bath on a line before: “add {name} to {bath}”.",
        name=slip.name.text,
        bath=within.name.text,
    )


@rule("something-missing", level="error", family=FAMILY, source="the language reference")
def something_missing(study: Study) -> Iterator[Found]:
    """A step without what its verb cannot do without.

    The reader does not know what to take, or where.

    Trips:
        wet out yarn for 1 h
    Cure:
        wet out yarn in tub with water 5 L for 1 h
    """
    # What is left out in a line that says several things is left out once.
    lines: set[tuple[str, int]] = set()
    for slip in study.slips("missing clause"):
        lines.add((slip.procedure.key, slip.name.place.line))
        yield from_slip(
            study,
            slip,
            say("“{name}” needs “{wanted}”.", name=slip.name.text, wanted=slip.wanted),
            _with_clause(study, slip),
        )
    for slip in study.slips("missing object"):
        line = (slip.procedure.key, slip.name.place.line)
        if line in lines:
            continue
        lines.add(line)
        if slip.wanted == "the bag" and not any(p.bag for p in slip.procedure.equipment.values()):
            slip = slip._replace(wanted="the fibre")  # “put back”, where there is no bag
        yield from_slip(
            study,
            slip,
            say(
                "“{name}” does not say {wanted}.",
                name=slip.name.text,
                wanted=plainly_said(slip.wanted),
            ),
            _with_object(study, slip),
        )


def _of_that_kind(study: Study, slip: Slip) -> Says | str:
    """The names that could be there instead, where they are few."""
    known = by_kind(slip.procedure, slip.wanted, study)
    if slip.wanted == "a material" and slip.name.text in slip.procedure.lots:
        return say("Fibre goes in by a step of its own: “enter {lot} in ...”.", lot=slip.name.text)
    if (
        slip.node is not None
        and slip.node.does.cleans
        and slip.name.text in slip.procedure.materials
    ):
        return say(
            'Pots are cleaned; of plants tell it in free words: “do "wash {name}"”.',
            name=slip.name.text,
        )
    if not known:
        return "Use the right name."
    quoted = ["“" + one + "”" for one in known]
    return say("Use the name of one: {known}.", known=listed(quoted, last=" or "))


def _with_clause(study: Study, slip: Slip) -> Says:
    """What to write where a verb lacks a clause, with the writer's own names."""
    clause = slip.wanted.split(" or ")[0]
    if (said := _usual_clause(study, slip, clause)) is not None:
        return said
    if slip.node is not None and slip.node.does.splits:
        return _parted_into(slip)
    pots = [one.name.text for one in slip.procedure.equipment.values() if one.holds]
    if clause in ("in", "into") and pots and slip.node is not None:
        makes = slip.node.does.makes_bath  # it needs a pot with nothing in it
        baths = list(_before(study, slip, prepared=bool(slip.node.lots)))
        baths = [] if makes else baths or list(_before(study, slip))
        if not (baths or makes) and (gone := sorted(_thrown_away(study, slip))):
            return say("Say into which bath: {bath} is thrown away by now.", bath=gone[-1])
        return _say_where(clause, baths or pots[:1])
    return say("Say it: {name} ... {clause} ....", name=slip.name.text, clause=clause)


# How the parts of a lot are numbered where they are offered names.
_ORDER = ("one", "two", "three", "four", "five", "six", "seven", "eight")


def _parted_into(slip: Slip) -> Says:
    """What to write where it is not said into what a lot is divided."""
    step = slip.node.step if slip.node is not None else None
    objects = step.objects if isinstance(step, Step) else ()
    names = [item.name.text for item in objects if item.name is not None]
    lot = (names or list(slip.procedure.lots) or ["yarn"])[0]
    said = objects[0].quantity if objects else None
    many = int(said.low) if said is not None and said.kind == "count" and said.low else 2
    if many == 2 or many > len(_ORDER):
        return say("Say into what: “split {lot} into part-one half of {lot}, part-two”.", lot=lot)
    share, last = Count(Fraction(many)), _ORDER[many - 1]
    parts = [
        say("part-{name} 1/{share} of {lot}", name=name, share=share, lot=lot)
        for name in _ORDER[: many - 1]
    ]
    return say(
        "Say into what: “split {lot} into {parts}”.",
        lot=lot,
        parts=listed([*parts, say("part-{last}", last=last)], last=", "),
    )


def _say_where(clause: str, places: list[str]) -> Says:
    """The clause with the place that may be meant, or with each of a few."""
    places = list(dict.fromkeys(places))
    meant = places if len(places) <= _FEW else places[-1:]
    return say(
        "Say where: {places}.",
        places=listed(["“" + clause + " " + place + "”" for place in meant], last=" or "),
    )


def _usual_clause(study: Study, slip: Slip, clause: str) -> Says | None:
    """How the clause that a step lacks mostly ends; None where it may end in many ways."""
    bath = next(iter([*_before(study, slip)][-1:]), "")
    does = slip.node.does if slip.node is not None else None
    if does is None or (clause in ("in", "into") and does.makes_bath):
        return None
    if clause == "to" and does.cools:
        return Says("Say how far: “to hand-hot”.")
    if clause == "to" and does.brings_to_heat:
        return Says("Say how hot: “to the simmer”.")
    if clause in ("for", "until"):
        return Says("Say how long: “for 1 h”.")
    if clause == "with" and does.tops_up:
        return shown("Say with what: “with water {some_water}”.")
    if clause == "as" and does.stores:
        return say("Say under which name: “as {name}”.", name="kept-" + (bath or "bath"))
    if not bath:
        return None
    if clause == "to" and does.adds:
        return _say_where("to", list(_before(study, slip)))
    if clause == "from":
        return say("Say out of which bath: “from {bath}”.", bath=bath)
    return None


# So many lots are named in a remedy.
_FEW = 3


def _with_object(study: Study, slip: Slip) -> Says | str:
    """What to write after a verb that says nothing of what it is done to."""
    names: list[str] = []
    step = slip.node.step if slip.node is not None else None
    own = slip.name.text in vocabulary().verbs
    if isinstance(step, Step) and not own and step.does.adds and step.to is not None:
        return _with_what(study, slip)  # acidify the bath
    if "pot" in slip.wanted:
        names = [pot.name.text for pot in slip.procedure.equipment.values() if pot.holds][:1]
    elif "bath" in slip.wanted:
        names = list(_before(study, slip))[-1:]
    elif "fibre" in slip.wanted:
        names = list(slip.procedure.lots)
    if not 1 <= len(names) <= _FEW:
        return "Write its name after the verb."
    return say(
        "Write its name after the verb: “{name} {it}”.",
        name=slip.name.text,
        it=listed(names, last=" and "),
    )


# Of acids and alkalis that are offered unasked, these hazards are all; none of them burns.
_IRRITATES = frozenset(("H315", "H319", "H335"))


def _with_what(study: Study, slip: Slip) -> Says:
    """What to write where a bath is made sour or sharp, and it is not said with what.

    An acid makes sour, and an alkali makes a vat sharp; none is offered that burns.
    """
    sour, sharp = (
        _offered(slip.procedure, "acid") or ["vinegar"],
        _offered(slip.procedure, "alkali"),
    )
    if slip.name.text.startswith("neutrali"):
        return say(
            "Say what goes in: {acid} where it is alkaline, {alkali} where it is sour.",
            acid=_with_one_of(sour),
            alkali=_with_one_of(sharp or ["bicarbonate"]),
        )
    if slip.name.text.startswith("alkali"):
        return say("Say what goes in: {with_what}.", with_what=_with_one_of(sharp or ["soda"]))
    if slip.name.text == "sharpen" and _is_reduced(study, slip):
        if not sharp:
            return Says("Say with which alkali.")
        return say("Say what goes in: {with_what}.", with_what=_with_one_of(sharp))
    return say("Say what goes in: {with_what}.", with_what=_with_one_of(sour))


def _with_one_of(names: list[str]) -> Several:
    return listed(["“with " + name + "”" for name in names[:_FEW]], last=" or ")


def _offered(procedure: Procedure, role: str) -> list[str]:
    """The acids or the alkalis that are declared and do no more harm than to irritate."""
    return [
        name
        for name, one in procedure.materials.items()
        if role in one.roles
        and not {"detergent", "reducer"} & set(one.roles)
        and one.entry is not None
        and one.entry.facts.get("strength", "") != "strong"
        and _IRRITATES.issuperset(one.entry.words("hazards"))
        and not one.mixed
    ]


def _is_reduced(study: Study, slip: Slip) -> bool:
    """True where the bath of a step is a vat: a reducer went into it above."""
    node = slip.node
    if node is None:
        return False
    known = study.flow.materials
    things = [
        known[thing][0]
        for other in study.flow.nodes[: node.id]
        if other.bath and other.bath == node.bath
        for thing, _ in other.materials
        if thing in known
    ]
    return any("reducer" in one.roles for one in things)


def _thrown_away(study: Study, slip: Slip) -> set[str]:
    """The baths that are wholly thrown away above a step: nothing goes into those."""
    above = [node for node in study.flow.nodes if slip.node is None or node.id < slip.node.id]
    steps = [node.step for node in above if node.does.empties]
    emptied = [step.objects for step in steps if isinstance(step, Step)]
    whole = [item for items in emptied for item in items if item.quantity is None]
    return {item.name.text for item in whole if item.name is not None}


def _before(study: Study, slip: Slip, prepared: bool = False) -> Iterator[str]:
    """The names of the baths that are made above a step, in order; no stocks, if ``prepared``."""
    gone = _thrown_away(study, slip)
    for node in study.flow.nodes:
        if slip.node is not None and node.id >= slip.node.id:
            return
        stock = prepared and not (node.does.prepares or node.lots)
        label = node.step.label.text if node.does.makes_bath and node.step.label else ""
        if label and not stock and label not in gone:
            yield label
        if node.does.draws_off and node.makes and isinstance(node.step, Step):
            pot = next((one.name for one in node.step.into if one.name), None)
            drawn = node.step.named or node.step.label or pot
            if drawn is not None and drawn.text not in gone:
                yield drawn.text


@rule("water-declared", level="warning", family=FAMILY, source="the language reference")
def water_declared(study: Study) -> Iterator[Found]:
    """Water among the materials: it is always there, and each step says how much it takes.

    A line of it among the materials says nothing that the steps do not say.

    Trips:
        materials
          rainwater: rain water
        steps
          wet out yarn in tub with water 5 L for 1 h
    Cure:
        wet out yarn in tub with water 5 L for 1 h
    """
    for procedure in study.procedures:
        for name in procedure.waters_declared:
            yield Found(
                procedure,
                name.place,
                "Water is always there; it is not declared.",
                "Leave out the line, and write “water” in the steps. Its kind belongs at the head: "
                "“water rain”.",
            )


@rule("part-of-a-lot", level="error", family=FAMILY, source="the language reference")
def part_of_a_lot(study: Study) -> Iterator[Found]:
    """A step with a part of a lot, which is done to the whole lot.

    A lot stays together until it is split, so the amount would say nothing.

    Trips:
        rinse yarn 40 g in tub with water 5 L at 30 °C
    Cure:
        split yarn into part 40 g, remainder
        rinse part in tub with water 5 L at 30 °C
    """
    for node in study.flow.nodes:
        step = node.step
        if not isinstance(step, Step) or step.verb is None or "lot" not in step.verb.objects:
            continue
        for item in step.objects if not (node.does.splits or node.does.joins) else ():
            lot = node.procedure.lots.get(item.name.text) if item.name is not None else None
            part = item.quantity
            if lot is None or part is None:
                continue
            some = part.kind == "loose"  # some of the yarn
            whole = part if some else _whole_of(lot, part)
            if whole is None or (part.known and whole.known and not _apart(part.ends, whole.ends)):
                continue
            yield Found(
                node.procedure,
                part.place,
                say(
                    "The whole of “{lot}” goes on here, and not “{part}” of it.",
                    lot=lot.name.text,
                    part=part.text,
                ),
                _parted_by_half(lot.name.text)
                if some
                else _parted(lot.name.text, part.text, part.ends < whole.ends),
            )
    for node in study.flow.nodes:
        for part in _counted(node):
            yield _some_skeins(study, node, part)


@rule("part-of-a-bath", level="error", family=FAMILY, source="the language reference")
def part_of_a_bath(study: Study) -> Iterator[Found]:
    """A step with a part of a bath, which is done to the whole bath.

    What is drawn off has a pot and a name of its own; the rest stays what it is.

    Trips:
        gold-bath: prepare in kettle with water 4 L, onion 50 g
        simmer half of gold-bath at 85 °C for 1 h
        discard gold-bath to "foul drain"
    Cure:
        gold-bath: prepare in kettle with water 4 L, onion 50 g
        draw off half of gold-bath into pan
        simmer pan at 85 °C for 1 h
        discard gold-bath, pan to "foul drain"
    """
    for node in study.flow.nodes:
        does, step = node.does, node.step
        parted = does.draws_off or does.adds or does.empties or does.makes_bath
        if not isinstance(step, Step) or not node.bath or parted or step.verb is None:
            continue
        for item in step.objects if "bath" in step.verb.objects else ():
            part = item.quantity
            name = item.name.text if item.name is not None else part.base if part else ""
            if part is None or node.names.get(name, "") not in (node.bath, node.pot):
                continue
            if part.kind == "share" and part.low == part.high == 1:
                continue
            yield Found(
                node.procedure,
                part.place,
                say(
                    "The whole of {bath} goes on here, and not “{part}” of it.",
                    bath=study.thing(node.bath),
                    part=part.text.partition(" of ")[0],
                ),
                say(
                    "Draw it off first, and write here what it is then called: "
                    "“draw off {part} of {bath} into {pot}”.",
                    part=part.text.partition(" of ")[0],
                    bath=name,
                    pot=_another_pot(study, node),
                ),
            )


def _another_pot(study: Study, node: FlowNode) -> str:
    """A pot of the text other than the one in which a step is done."""
    pots = [one.name.text for one in node.procedure.equipment.values() if one.holds]
    step = node.step
    place = step.within if isinstance(step, Step) else None
    if place is not None and place.name is not None and place.name.text in pots:
        return place.name.text
    return next((one for one in pots if node.names.get(one, one) != node.pot), "pan")


def _whole_of(lot: Lot, part: Quantity) -> Quantity | None:
    """The weight of a lot, or its number of pieces, as a part of it is measured."""
    return {"mass": lot.weight, "count": lot.pieces}.get(part.kind)


def _counted(node: FlowNode) -> Iterator[Quantity]:
    """“1 skein” out of a bath, or by itself: some pieces of a lot, which are not said to be."""
    step = node.step
    if not isinstance(step, Step) or step.verb is None or step.does.splits or step.does.joins:
        return
    for item in step.objects:
        part = item.quantity
        if item.name is None and part is not None and part.kind == "count":
            base = node.names.get(part.base, "")
            if not part.base or base not in node.procedure.materials:
                yield part


def _some_skeins(study: Study, node: FlowNode, part: Quantity) -> Found:
    """What is found of some pieces of a lot: of those in the bath, or of the only lot there is."""
    own = node.procedure.lots
    inside = [study.flow.lots[lot].name for lot in node.present]
    lots = [name for name in inside if name in own] or list(own if len(own) == 1 else ())
    some = part.text.partition(" of ")[0].partition(" out of ")[0].partition(" from ")[0]
    return Found(
        node.procedure,
        part.place,
        say("“{part}” is a part of a lot, which goes on as a whole.", part=some),
        say(
            "Part it on a line before, “split {lot} into first {part}, second”, and write “first” "
            "here.",
            lot=lots[0] if lots else next(iter(own), "yarn"),
            part=some,
        ),
    )


# What people call the pieces or the lots, where they say how many of them.
_PIECES = frozenset("skeins hanks balls pieces lots cloths scarves".split())


def _of_the_pieces(lots: Mapping[str, Lot], part: str, pieces: str) -> Says:
    """What to write for “two of the skeins”: some of a lot, or of several lots."""
    names = list(lots)
    if len(names) > 1 or pieces == "lots":
        return say("Write the names of those that are meant: {lots}.", lots=listed(names[:_FEW]))
    word = pieces.removesuffix("s") if part in ("one", "1", "a") else pieces
    return say(
        "Part it on a line before, “split {lot} into first {part} {word}, second”, and write "
        "“first” here.",
        lot=names[0],
        part=part,
        word=word,
    )


def _parted_by_half(lot: str) -> Says:
    """What to write for a step with some of a lot."""
    split = (
        "Part it on a line before and say how much it is, as in “split {lot} into part-one half "
        "of {lot}, part-two”, and write “part-one” here."
    )
    return say(split, lot=lot)


def _parted(lot: str, part: str, less: bool) -> Says:
    """What to write for a step with a part of a lot, or with more than there is."""
    if not less:
        return Says("Leave the amount out, or put the weight right where the lot is declared.")
    split = (
        "Leave the amount out, or part the lot on a line before, “split {lot} into part-one "
        "{part}, part-two”, and write “part-one” here."
    )
    return say(split, lot=lot, part=part)


def _apart(first: tuple[Fraction, Fraction], second: tuple[Fraction, Fraction]) -> bool:
    """True for two weights that have nothing in common, each rounded as one may round."""
    least = 1 - threshold("pieces and whole").value
    return first[1] < second[0] * least or second[1] < first[0] * least


@rule("or-without-either", level="error", family=FAMILY, source="the language reference")
def or_without_either(study: Study) -> Iterator[Found]:
    """An ``or`` with no ``either`` before it, or an ``either`` with one way only.

    Nobody knows between what to choose.

    Trips:
        or "a brighter red"
          rinse yarn in tub with water 5 L at 30 °C
    Cure:
        either "a duller red"
          rinse yarn in tub with water 5 L at 20 °C
        or "a brighter red"
          rinse yarn in tub with water 5 L at 30 °C
    """
    for procedure in study.procedures:
        for name in procedure.stray_ors:
            yield Found(
                procedure,
                name.place,
                "“or” has no “either” before it, at the same indentation.",
                'Begin the first way with “either "..."”, and put “or "..."” below its steps.',
            )
    for node in study.flow.nodes:
        if node.kind == "either" and sum(one.kind == "way" for one in node.inner) == 1:
            yield at_node(
                node,
                "“either” has one way only.",
                "Write the other way below its steps: or “...”.",
            )


@rule("not-modelled", level="note", family=FAMILY, source="the language reference")
def not_modelled(study: Study) -> Iterator[Found]:
    """A step in free words, which the program draws and cannot check.

    Its amounts, heats and hazards are left to the reader.

    Trips:
        do "tie the skeins loosely in four places"
    Cure:
        wet out yarn in tub with water 5 L for 1 h
    """
    for moment in study.moments:
        if moment.step.kind == "do":
            yield at_node(
                moment.node,
                "This step is in free words; it is drawn and not checked.",
                "There is nothing to do if no verb says it.",
            )


RULES = (
    cannot_read,
    no_procedure,
    unknown_word,
    part_unstated,
    said_twice,
    clause_out_of_place,
    wrong_kind_of_thing,
    something_missing,
    or_without_either,
    part_of_a_lot,
    part_of_a_bath,
    water_declared,
    not_modelled,
)
