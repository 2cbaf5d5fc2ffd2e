"""Names and order: everything is what it is called, and is there when it is used."""

from __future__ import annotations

from collections.abc import Iterator

from procedure.facts.study import Pointer, Study
from procedure.findings import Line, Mass, Says, Several, listed, say
from procedure.model import Name
from procedure.model.describing import TABLES
from procedure.rules import edits
from procedure.rules.rule import Found, at_node, from_slip, on_way, rule

FAMILY = "names and order"
PRACTICE = "common practice"


@rule("cannot-read", level="error", family=FAMILY, source="the language reference")
def cannot_read(study: Study) -> Iterator[Found]:
    """A line that is not in the language.

    What cannot be read is not checked, so a fault may hide in it.

    Trips:
        wet out yarn in tub with water 5 L fro 1 h
    Cure:
        wet out yarn in tub with water 5 L for 1 h
    """
    from procedure.model import Place

    for procedure in study.procedures:
        for fault in study.trees[procedure.file].faults:
            place = Place(fault.line, fault.column, fault.to)
            edit = edits.of_fault(procedure, fault)
            said = say("{fault}", fault=fault.sentence)
            remedy = say("{remedy}", remedy=fault.remedy)
            yield Found(procedure, place, said, remedy, edit=edit)


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
    from procedure.model import Place

    for procedure in study.procedures:
        tree = study.trees[procedure.file]
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
        for word, section, nearest in procedure.unknown:
            remedy = Says("Put words that are only for the reader into quotation marks.")
            if nearest is not None:
                remedy = say("Did you mean “{nearest}”?", nearest=nearest)
            elif section == "materials":
                remedy = Says(
                    "Say what part it plays, such as dyestuff, mordant, acid or alkali; put words "
                    "that are only for the reader into quotation marks."
                )
            edit = edits.of_word(word, TABLES.get(section, (section,)))
            sentence = say("I do not know the word “{word}”.", word=word.text)
            yield Found(procedure, word.place, sentence, remedy, edit=edit)


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
        lines = {word.place.line for word, _, _ in procedure.unknown}
        for material in procedure.materials.values():
            if not material.roles and material.line not in lines:
                yield Found(
                    procedure,
                    material.name.place,
                    say(
                        "It is not said what {material} is, or what part it plays.",
                        material=material.name.text,
                    ),
                    "Write its name in the trade, or a part such as dyestuff, mordant or acid.",
                )
        for lot in procedure.lots.values():
            if not lot.fibres and lot.line not in lines:
                yield Found(
                    procedure,
                    lot.name.place,
                    say("It is not said what fibre {lot} is.", lot=lot.name.text),
                    "Write the fibre, such as wool, silk, cotton or linen.",
                )


@rule("not-declared", level="error", family=FAMILY, source="the language reference")
def not_declared(study: Study) -> Iterator[Found]:
    """A name that is used and was never declared or made.

    The reader looks for it in vain; most often it is spelt two ways.

    Trips:
        wet out yarn in tub with water 5 L for 1 h
        rinse yarm in tub with water 5 L
    Cure:
        wet out yarn in tub with water 5 L for 1 h
        rinse yarn in tub with water 5 L
    """
    for slip in study.slips("not declared"):
        remedy = (
            say("Did you mean “{near}”?", near=slip.near)
            if slip.near
            else say("Declare it, or use the name of {wanted}.", wanted=slip.wanted)
        )
        found = from_slip(
            study, slip, say("Nothing is called “{name}” here.", name=slip.name.text), remedy
        )
        yield found._replace(edit=edits.of_name(slip))


@rule("declared-twice", level="error", family=FAMILY, source="the language reference")
def declared_twice(study: Study) -> Iterator[Found]:
    """A name, label or section that means two things.

    The reader cannot tell which is meant.

    Trips:
        soak: wet out yarn in tub with water 5 L for 1 h
        soak: rinse yarn in tub with water 5 L
    Cure:
        soak: wet out yarn in tub with water 5 L for 1 h
        first-rinse: rinse yarn in tub with water 5 L
    """
    for slip in study.slips("declared twice"):
        yield from_slip(
            study,
            slip,
            say("“{name}” is the name of something else already.", name=slip.name.text),
            "Choose another name for one of the two.",
            "It was named here first.",
        )
    for procedure in study.procedures:
        for name, first in procedure.declared_twice:
            yield Found(
                procedure,
                name.place,
                say("“{name}” is declared twice.", name=name.text),
                "Choose another name for one of the two.",
                related=(Pointer(procedure, first.place, "It was declared here first."),),
            )
        for name, line in procedure.sections_twice:
            yield Found(
                procedure,
                name.place,
                say(
                    "There are two sections “{name}”; the first begins on {line}.",
                    name=name.text,
                    line=Line(line),
                ),
                "Put both together.",
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


@rule("clause-out-of-place", level="error", family=FAMILY, source="the language reference")
def clause_out_of_place(study: Study) -> Iterator[Found]:
    """A clause that means nothing with its verb, as in: clean the kettle at 30 °C.

    It is not followed, so what the writer meant by it is lost.

    Trips:
        rinse yarn in tub with water 5 L over 20 min
    Cure:
        rinse yarn in tub with water 5 L for 20 min
    """
    fields = {
        "in": "within",
        "into": "into",
        "from": "source",
        "with": "using",
        "at": "at",
        "to": "to",
        "over": "over",
        "for": "lasting",
        "until": "until",
        "as": "named",
        "on": "on",
        "through": "through",
    }
    for moment in study.moments:
        step = moment.step
        if step.verb is None:
            continue
        for clause, name in fields.items():
            value = getattr(step, name)
            if not value or clause in step.verb.may:
                continue
            if clause == "on" and step.does.over_heat:
                continue
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


@rule("never-used", level="warning", family=FAMILY, source=PRACTICE)
def never_used(study: Study) -> Iterator[Found]:
    """Fibre, a pot or a material that is declared and never used.

    Either a step is missing or the reader buys something for nothing.

    Trips:
        materials
          alum: potassium alum
        steps
          wet out yarn in tub with water 5 L for 1 h
    Cure:
        wet out yarn in tub with water 5 L for 1 h
    """
    for slip in study.slips("never used"):
        yield from_slip(
            study,
            slip,
            say("“{name}” is declared and never used.", name=slip.name.text),
            "Use it in a step, or remove it.",
        )


@rule("used-before-made", level="error", family=FAMILY, source="the language reference")
def used_before_made(study: Study) -> Iterator[Found]:
    """A bath or a lot that is used before the step that makes it.

    The steps are in the wrong order.

    Trips:
        wet out yarn in tub with water 5 L for 1 h
        mordant yarn in alum-bath at 85 °C for 1 h
        alum-bath: prepare in kettle with water 3 L, alum 12 g
        rinse yarn in tub with water 5 L
        discard alum-bath to "foul drain"
    Cure:
        wet out yarn in tub with water 5 L for 1 h
        alum-bath: prepare in kettle with water 3 L, alum 12 g
        mordant yarn in alum-bath at 85 °C for 1 h
        rinse yarn in tub with water 5 L
        discard alum-bath to "foul drain"
    """
    for slip in study.slips("used before made"):
        yield from_slip(
            study,
            slip,
            say("“{name}” is used here, before it is made.", name=slip.name.text),
            "Move this step below the one that makes it.",
            "It is made here.",
        )
    for slip in study.slips("made on one way"):
        yield from_slip(
            study,
            slip,
            say(
                "“{name}” is used here, but it is only made {path}.",
                name=slip.name.text,
                path=slip.path,
            ),
            "Make it on both ways, or use it inside the same “if”.",
            "It is made here.",
        )


@rule("used-after-emptied", level="error", family=FAMILY, source="the language reference")
def used_after_emptied(study: Study) -> Iterator[Found]:
    """A bath that is used after it was thrown away or used up.

    There is nothing left of it.

    Trips:
        wet out yarn in tub with water 5 L for 1 h
        alum-bath: prepare in kettle with water 3 L, alum 12 g
        discard alum-bath to "foul drain"
        mordant yarn in alum-bath at 85 °C for 1 h
        rinse yarn in tub with water 5 L
    Cure:
        wet out yarn in tub with water 5 L for 1 h
        alum-bath: prepare in kettle with water 3 L, alum 12 g
        mordant yarn in alum-bath at 85 °C for 1 h
        rinse yarn in tub with water 5 L
        discard alum-bath to "foul drain"
    """
    for slip in study.slips("used after emptied"):
        yield from_slip(
            study,
            slip,
            say(
                "“{name}” is used here, but it is gone by then{way}.",
                name=slip.name.text,
                way=on_way(slip.path),
            ),
            "Move this step up, or make the bath anew.",
            "It goes away here.",
        )
    for slip in study.slips("empty pot"):
        yield from_slip(
            study,
            slip,
            say("There is no bath in “{name}” at this step.", name=slip.name.text),
            "Prepare a bath in it first, or say with what: “with water ...”.",
        )


@rule("in-a-circle", level="error", family=FAMILY, source="the language reference")
def in_a_circle(study: Study) -> Iterator[Found]:
    """Steps that each wait for the other.

    Nobody can begin.

    Trips:
        soak: wet out yarn in tub with water 5 L for 1 h after last
        last: rinse yarn in tub with water 5 L
    Cure:
        soak: wet out yarn in tub with water 5 L for 1 h
        last: rinse yarn in tub with water 5 L after soak
    """
    circle = study.flow.cycle
    if circle:
        said = tuple(Line(node.step.place.line) for node in circle)
        pointers = tuple(
            Pointer(node.procedure, node.step.place, "This step is part of the circle.")
            for node in circle[1:]
        )
        # The order by hand is what closes the circle, so it is the place to look.
        last = next((n for n in circle if getattr(n.step, "after", ())), circle[0])
        yield at_node(
            last,
            say(
                "These steps go round in a circle: {steps}, and back to {first}.",
                steps=Several(said, ", then ", ", then "),
                first=said[0],
            ),
            "Remove the “after” that closes the circle.",
            related=pointers,
        )


@rule("lot-in-two-places", level="error", family=FAMILY, source="the language reference")
def lot_in_two_places(study: Study) -> Iterator[Found]:
    """Fibre that is used under its old name after it was split or joined, or twice in one step.

    One lot cannot be in two places.

    Trips:
        wet out yarn in tub with water 5 L for 1 h
        split yarn into gold 50 g, moss 50 g
        rinse yarn in tub with water 5 L
        dry gold, moss
    Cure:
        wet out yarn in tub with water 5 L for 1 h
        split yarn into gold 50 g, moss 50 g
        rinse gold, moss in tub with water 5 L
        dry gold, moss
    """
    for slip in study.slips("lot gone"):
        yield from_slip(
            study,
            slip,
            say(
                "There is no “{name}” any more: it was divided or joined with others{way}.",
                name=slip.name.text,
                way=on_way(slip.path),
            ),
            "Use the names of the new lots.",
            "It was divided or joined here.",
        )
    for slip in study.slips("lot twice"):
        yield from_slip(
            study,
            slip,
            say("“{name}” is named twice in this step.", name=slip.name.text),
            "Name it once.",
        )


@rule("divided-again", level="error", family=FAMILY, source="common practice")
def divided_again(study: Study) -> Iterator[Found]:
    """A lot that is divided when it was divided before.

    Nothing of it is left under that name; it is one of its parts that is meant.

    Trips:
        split yarn into gold 50 g, moss 50 g
        split yarn into pale 20 g, deep 80 g
        dry gold, moss
    Cure:
        split yarn into gold 50 g, moss 50 g
        split moss into pale 20 g, deep 30 g
        dry gold, pale, deep
    """
    for slip in study.slips("split again"):
        yield from_slip(
            study,
            slip,
            say(
                "“{name}” was divided already{way}, so it cannot be divided again.",
                name=slip.name.text,
                way=on_way(slip.path),
            ),
            say("Divide one of its parts, which are called {wanted}.", wanted=slip.wanted),
            "It was divided here.",
        )


@rule("split-does-not-add-up", level="error", family=FAMILY, source="common practice")
def split_does_not_add_up(study: Study) -> Iterator[Found]:
    """A split whose parts weigh more or less than the lot.

    A skein is missing from the account, so every amount after it is wrong.

    Trips:
        split yarn into gold 60 g, moss 60 g
        dry gold, moss
    Cure:
        split yarn into gold 50 g, moss 50 g
        dry gold, moss
    """
    for node, lot, weight, parts in study.trace.split_sums:
        yield at_node(
            node,
            say(
                "{lot} weighs {weight}, but its parts come to {parts}.",
                lot=study.thing(lot),
                weight=Mass(*weight),
                parts=Mass(*parts),
            ),
            "Put the weights right, or leave the last one out: it is then what remains.",
        )


@rule("left-in-bath", level="error", family=FAMILY, source="common practice")
def left_in_bath(study: Study) -> Iterator[Found]:
    """Fibre that is still in a bath at the end.

    Nothing says when to take it out.

    Trips:
        wet out yarn in tub with water 5 L for 1 h
        alum-bath: prepare in kettle with water 3 L, alum 12 g
        mordant yarn in alum-bath at 85 °C for 1 h
        discard alum-bath to "foul drain"
    Cure:
        wet out yarn in tub with water 5 L for 1 h
        alum-bath: prepare in kettle with water 3 L, alum 12 g
        mordant yarn in alum-bath at 85 °C for 1 h
        rinse yarn in tub with water 5 L
        discard alum-bath to "foul drain"
    """
    for slip in study.slips("left in bath"):
        bath = study.thing(slip.wanted)
        yield from_slip(
            study,
            slip,
            say(
                "“{name}” goes into {bath} here and is never taken out.",
                name=slip.name.text,
                bath=bath,
            ),
            "Lift it, rinse it or dry it at the end.",
        )


@rule("fibre-still-in-it", level="warning", family=FAMILY, source=PRACTICE)
def fibre_still_in_it(study: Study) -> Iterator[Found]:
    """A bath that is thrown away while fibre lies in it.

    The steps have changed places, or one that takes the fibre out is missing; the
    reader pours the skeins into the drain.

    Trips:
        wet out yarn in tub with water 5 L for 1 h
        alum-bath: prepare in kettle with water 3 L, alum 12 g
        mordant yarn in alum-bath at 85 °C for 1 h
        discard alum-bath to "foul drain"
        rinse yarn in tub with water 5 L
    Cure:
        wet out yarn in tub with water 5 L for 1 h
        alum-bath: prepare in kettle with water 3 L, alum 12 g
        mordant yarn in alum-bath at 85 °C for 1 h
        rinse yarn in tub with water 5 L
        discard alum-bath to "foul drain"
    """
    for slip in study.slips("fibre thrown away"):
        yield from_slip(
            study,
            slip,
            say(
                "“{name}” is thrown away while {wanted} is still in it.",
                name=slip.name.text,
                wanted=slip.wanted,
            ),
            say("Take {wanted} out first: lift it or rinse it.", wanted=slip.wanted),
            "It goes in, or stays in, here.",
        )


@rule("bath-left-over", level="warning", family=FAMILY, source="common practice")
def bath_left_over(study: Study) -> Iterator[Found]:
    """A bath that is neither thrown away nor kept.

    Someone finds a pot of liquor and does not know what is in it.

    Trips:
        alum-bath: prepare in kettle with water 3 L, alum 12 g
    Cure:
        alum-bath: prepare in kettle with water 3 L, alum 12 g
        discard alum-bath to "foul drain"
    """
    for slip in study.slips("bath left over"):
        yield from_slip(
            study,
            slip,
            say(
                "“{name}” is neither discarded nor kept in the end{way}.",
                name=slip.name.text,
                way=on_way(slip.path),
            ),
            say("End with “discard {name} to ...” or “keep {name} as ...”.", name=slip.name.text),
        )


@rule("pot-not-free", level="error", family=FAMILY, source="common practice")
def pot_not_free(study: Study) -> Iterator[Found]:
    """A pot that is filled or cleaned while another bath is still in it.

    It cannot be done as written.

    Trips:
        alum-bath: prepare in kettle with water 3 L, alum 12 g
        gold-bath: prepare in kettle with water 3 L, onion 50 g
        discard alum-bath to "foul drain"
        discard gold-bath to "foul drain"
    Cure:
        alum-bath: prepare in kettle with water 3 L, alum 12 g
        discard alum-bath to "foul drain"
        clean kettle
        gold-bath: prepare in kettle with water 3 L, onion 50 g
        discard gold-bath to "foul drain"
    """
    for slip in study.slips("pot full"):
        yield from_slip(
            study,
            slip,
            say(
                "“{name}” still holds another bath at this step{way}.",
                name=slip.name.text,
                way=on_way(slip.path),
            ),
            "Discard that bath first, or use another pot.",
            "That bath was made here.",
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
        text = say("“{name}” is not", name=slip.name.text) if slip.name.text else "This is not"
        yield from_slip(
            study,
            slip,
            say("{that} what belongs here, which is {wanted}.", that=text, wanted=slip.wanted),
            "Use the right name.",
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
    for slip in study.slips("missing clause"):
        yield from_slip(
            study,
            slip,
            say("“{name}” needs “{wanted}”.", name=slip.name.text, wanted=slip.wanted),
            say(
                "Say it: {name} ... {clause} ....",
                name=slip.name.text,
                clause=slip.wanted.split(" or ")[0],
            ),
        )
    for slip in study.slips("missing object"):
        yield from_slip(
            study,
            slip,
            say("“{name}” does not say {wanted}.", name=slip.name.text, wanted=slip.wanted),
            "Write its name after the verb.",
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


def no_such_rule(name: Name, known: list[str]) -> tuple[Says, Says | str]:
    """What to say of an ``allow`` with a rule that there is not."""
    from procedure.vocabulary import near

    meant = near(name.text, known)
    remedy = (
        say("Did you mean “{meant}”?", meant=meant) if meant else "“vatwright why” lists the rules."
    )
    return say("There is no rule called “{name}”.", name=name.text), remedy


RULES = (
    cannot_read,
    no_procedure,
    unknown_word,
    part_unstated,
    not_declared,
    declared_twice,
    said_twice,
    clause_out_of_place,
    never_used,
    used_before_made,
    used_after_emptied,
    in_a_circle,
    lot_in_two_places,
    divided_again,
    split_does_not_add_up,
    left_in_bath,
    fibre_still_in_it,
    bath_left_over,
    pot_not_free,
    wrong_kind_of_thing,
    something_missing,
    not_modelled,
)
