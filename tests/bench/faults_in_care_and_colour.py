"""Faults that spoil fibre or colour: heat, mordants, vats, the wrong fibre."""

from __future__ import annotations

import re
from collections.abc import Iterator

from faults import Fault, fault, kind
from sound import GOES_IN, Sound

from procedure.model import Material, Place, Step
from procedure.trace import LotState, Moment


def _is(lots: list[LotState], fact: str, *values: str) -> bool:
    """Whether all of the fibre is of a class, or felts, and so on."""
    return bool(lots) and all(
        state.fibres and all(f.facts.get(fact) in values for f in state.fibres) for state in lots
    )


def _named(lots: list[LotState], *names: str) -> bool:
    return bool(lots) and all(
        state.fibres and all(f.name in names for f in state.fibres) for state in lots
    )


def _entry(made: Material, column: str) -> str:
    return made.entry.facts.get(column, "") if made.entry is not None else ""


def _hottest(sound: Sound, step: Step) -> Place | None:
    """The place of the heat that a step reaches: its “to”, else its “at”."""
    for item in (step.to, step.at):
        if item is not None and item.quantity is not None:
            return sound.whole(item.quantity)
    return None


def _fibre_becomes(row: str, other: str) -> str:
    """A declaration with another fibre in the place of wool; its name stays."""
    return re.sub(r"(:.*?)\b(wool|merino)\b(?!-)", rf"\1{other}", row, count=1)


def _heated(sound: Sound, step: Step, words: str) -> str | None:
    place = _hottest(sound, step)
    return None if place is None else sound.put(place, words)


def _lines_on(sound: Sound, lots: set[str]) -> set[int]:
    """The lines of the steps that act on those lots."""
    return sound.lines_of(
        m.step for m in sound.moments.values() if set(m.node.lots) & lots or set(m.entering) & lots
    )


# ------------------------------------------------------------------ fibre


@kind(
    "cotton where wool was",
    "fibre care",
    finds="no-tannin does-not-hold mordant-for-other-fibre",
    # Cotton wants an hour's wetting, other amounts and cooler madder than wool.
    follows="soaked-too-briefly too-much-mordant too-little-mordant dyestuff-too-hot "
    "tannin-too-hot too-much-dyestuff no-mordant vat-over-colour",
)
def cotton_for_wool(sound: Sound) -> Iterator[Fault]:
    """Wool yarn becomes cotton yarn, and takes alum and a mordant dye without tannin.

    Found at the lot's mordant or dye. Direct dyes and vats suit cotton and are left alone.
    """
    for lot in sound.model.lots.values():
        line = lot.name.place.line
        row = _fibre_becomes(sound.lines[line - 1], "cotton")
        row = row.replace("fleece", "yarn").replace("greasy", "unscoured")
        name = lot.name.text
        if row == sound.lines[line - 1] or sound.follows:
            continue
        metal = dye = tannin = False
        for _, moment in sound.of("treat"):
            for made in sound.contents(moment):
                metal |= bool(_entry(made, "metal"))
                dye |= _entry(made, "mordant") == "needed"
                tannin |= "tannin" in made.roles or _entry(made, "also") == "tannin"
        if metal and dye and not tannin:
            lines = {line} | sound.lines_of(
                s for s in sound.steps if s.effect in (*GOES_IN, "prepare", "add")
            )
            yield fault(sound.with_line(line, row), lines, f"“{name}” of cotton")


@kind(
    "silk where wool was",
    "fibre care",
    finds="too-hot-for-fibre",
    follows="soaked-too-briefly dyestuff-too-hot",
)
def silk_for_wool(sound: Sound) -> Iterator[Fault]:
    """Wool that is boiled becomes silk, which loses its lustre well below the boil.

    Found where it is boiled.
    """
    for lot in sound.model.lots.values():
        line = lot.name.place.line
        row = _fibre_becomes(sound.lines[line - 1], "silk")
        if row == sound.lines[line - 1]:
            continue
        boiled = {
            m.step.place.line
            for m in sound.moments.values()
            if m.peak is not None
            and m.peak[0] > 90
            and m.node.effect in GOES_IN
            and _named(sound.fibres(m), "wool", "merino")
        }
        if boiled:
            yield fault(sound.with_line(line, row), boiled, f"“{lot.name.text}” of silk")


HOT = (
    "dyestuff-too-hot tannin-too-hot heat-changed-fast heat-shock bath-still-hot no-fresh-air "
    "stirred-hot cannot-be-heated strong-alkali unlikely-time"
)


@kind(
    "silk at the boil",
    "fibre care",
    finds="too-hot-for-fibre",
    follows=HOT + " cannot-be-heated wrong-direction heat-word-mismatch heated-unattended",
)
def silk_boiled(sound: Sound) -> Iterator[Fault]:
    """Silk is mordanted or dyed at the boil. Found there. Degumming is at the boil by rights."""
    for step, moment in sound.of("treat"):
        text = _heated(sound, step, "boil")
        if text is not None and _named(sound.fibres(moment), "silk"):
            yield fault(text, sound.extent(step.place.line), "silk at the boil")


@kind(
    "wool kept at the boil for hours",
    "fibre care",
    finds="boiled-too-long",
    follows=HOT + " unlikely-time too-hot-for-fibre heated-unattended left-uncovered "
    "left-unlabelled",
)
def wool_boiled(sound: Sound) -> Iterator[Fault]:
    """Wool is mordanted or dyed at the boil for six hours. Found there."""
    for step, moment in sound.of("treat"):
        place = _hottest(sound, step)
        if place is None or step.lasting is None or not _is(sound.fibres(moment), "felts", "yes"):
            continue
        text = sound.puts([(place, "boil"), (step.lasting.place, "6 h")])
        yield fault(text, sound.extent(step.place.line), "six hours at the boil")


@kind(
    "wool stirred at the boil",
    "fibre care",
    finds="stirred-hot",
    follows=HOT + " too-hot-for-fibre",
)
def wool_stirred(sound: Sound) -> Iterator[Fault]:
    """Wool is stirred in a bath at the boil, and felts. Found there."""
    for step, moment in sound.of("treat"):
        place = _hottest(sound, step)
        row = sound.lines[step.place.line - 1]
        if place is None or not _is(sound.fibres(moment), "felts", "yes"):
            continue
        if place.line != step.place.line or " note " in row:
            continue
        changed = row[: place.column - 1] + "boil" + row[place.to - 1 :]
        changed = re.sub(r" gently\b", "", changed) + " stirring"
        yield fault(sound.with_line(place.line, changed), [place.line], "stirred at the boil")


@kind(
    "a hot bath, a cool rinse",
    "fibre care",
    finds="heat-shock bath-still-hot",
    follows="left-uncovered",
)
def cooling_dropped(sound: Sound) -> Iterator[Fault]:
    """The cooling between a bath above 60 °C and the rinse below 30 °C cooler is left out.

    Wool felts. Found at the rinse or at what comes next in the bath.
    """
    for step, moment in sound.of("cool"):
        bath = moment.bath_before
        lots = set(moment.node.present)
        if bath is None or bath.heat is None or not lots or len(sound.extent(step.place.line)) > 1:
            continue
        if not _is(sound.fibres(moment), "felts", "yes"):
            continue
        following = [
            m
            for m in sound.moments.values()
            if m.step.place.line > step.place.line
            and (set(m.node.lots) & lots or m.node.bath == moment.node.bath)
        ]
        nxt = following[0] if following else None
        if nxt is None or nxt.node.effect not in ("rinse", "wash") or nxt.start is None:
            continue
        if bath.heat[0] - nxt.start[1] <= 30:
            continue
        yield fault(sound.without(step.place.line), sound.extent(nxt.step.place.line), "not cooled")


@kind("heated in five minutes", "fibre care", finds="heat-changed-fast")
def heated_fast(sound: Sound) -> Iterator[Fault]:
    """Wool is taken from hand-hot to 75 °C or more in five minutes. Found there."""
    for step, moment in sound.of("treat", "heat"):
        if step.over is None or moment.peak is None or moment.start is None:
            continue
        if not _is(sound.fibres(moment), "felts", "yes") or moment.peak[0] - moment.start[1] < 30:
            continue
        text = sound.put(step.over.place, "5 min")
        yield fault(text, sound.extent(step.place.line), "heated in 5 min")


@kind(
    "wool into a bath at the simmer",
    "fibre care",
    finds="heat-shock bath-still-hot",
    follows="left-uncovered",
)
def entered_hot(sound: Sound) -> Iterator[Fault]:
    """A dye bath is not cooled after its simmering, and the wool goes in. Found there."""
    for step, moment in sound.of("cool"):
        bath = moment.bath_before
        if bath is None or bath.heat is None or bath.heat[0] < 70 or moment.node.present:
            continue
        nxt = next(
            (
                (s, m)
                for s, m in sound.of(*GOES_IN)
                if s.place.line > step.place.line and m.node.bath == moment.node.bath
            ),
            None,
        )
        between = [
            m
            for m in sound.moments.values()
            if nxt is not None
            and step.place.line < m.step.place.line < nxt[0].place.line
            and m.node.bath == moment.node.bath
            and m.node.effect in ("cool", "stand", "top up")
        ]
        if nxt is None or between or not _is(sound.fibres(nxt[1]), "felts", "yes"):
            continue
        yield fault(
            sound.without(step.place.line), sound.extent(nxt[0].place.line), "the bath not cooled"
        )


@kind("unscoured fibre", "fibre care", finds="unscoured-fibre")
def unscoured(sound: Sound) -> Iterator[Fault]:
    """“scoured” becomes “unscoured”, and nothing scours it. Found where it goes into a bath."""
    for lot in sound.model.lots.values():
        line = lot.name.place.line
        row = re.sub(r", scoured\b", ", unscoured", sound.lines[line - 1])
        uses = sound.using(lot.name.text)
        if any(
            s.effect in ("scour", "wash")
            and s.place.line
            < min((u.place.line for u in uses if u.effect in GOES_IN), default=10**6)
            for s in uses
        ):
            continue
        lines = sound.lines_of(s for s in sound.steps if s.effect in GOES_IN)
        if row != sound.lines[line - 1] and lines:
            yield fault(sound.with_line(line, row), lines, f"“{lot.name.text}” unscoured")


@kind(
    "a vat too hot for wool",
    "fibre care",
    finds="vat-too-hot",
    follows="heat-shock bath-still-hot dyestuff-too-hot heat-changed-fast no-fresh-air hot-alkali",
)
def vat_hot(sound: Sound) -> Iterator[Fault]:
    """Wool or silk is dipped at 85 °C. Found at the dip."""
    for step, moment in sound.of("dip"):
        place = _hottest(sound, step)
        if place is not None and _is(sound.fibres(moment), "class", "protein"):
            yield fault(sound.put(place, "85 °C"), sound.extent(step.place.line), "dipped at 85 °C")


@kind(
    "lye in the wool scour",
    "fibre care",
    finds="strong-alkali",
    follows="no-gloves no-eye-protection must-not-meet alkali-left soap-carried-over "
    "wrong-order-of-pouring hot-alkali ends-unrinsed scoured-in-plain-water",
)
def lye_on_wool(sound: Sound) -> Iterator[Fault]:
    """The soap of a wool scour or wash becomes lye. Found there."""
    for made in sound.model.materials.values():
        if "detergent" not in made.roles or made.name.text in sound.model.brought:
            continue
        baths = [
            m
            for _, m in sound.of("scour", "wash")
            if _is(sound.fibres(m), "class", "protein")
            and any(one.name.text == made.name.text for _, one in sound.put_in(m.step))
        ]
        line = made.name.place.line
        row = re.sub(r"(:\s+)[^,]+", r"\1lye", sound.lines[line - 1], count=1)
        if baths:
            yield fault(sound.with_line(line, row), sound.lines_of(m.step for m in baths), "lye")


# ------------------------------------------------------------------ colour


def _metals(sound: Sound, moment: Moment) -> list[Material]:
    return [m for m in sound.contents(moment) if _entry(m, "metal")]


def _wants_mordant(sound: Sound) -> list[tuple[Step, Moment]]:
    """The steps that dye with what holds only on a mordant."""
    return [
        (s, m)
        for s, m in sound.of("treat")
        if m.entering and any(_entry(made, "mordant") == "needed" for made in sound.contents(m))
    ]


@kind(
    "the mordanting forgotten",
    "colour",
    finds="no-mordant",
    follows="bath-without-fibre soaked-too-briefly never-used no-tannin pot-not-free "
    "fibre-still-in-it heat-shock left-in-bath entered-dry bath-still-hot dried-before-bath "
    "no-mordant heat-changed-fast",
)
def mordanting_dropped(sound: Sound) -> Iterator[Fault]:
    """Every step that mordants is left out, and a dye that needs a mordant follows.

    Found at the dye.
    """
    dyes = _wants_mordant(sound)
    mordants = [
        s
        for s, m in sound.of("treat")
        if _metals(sound, m) and not any("dyestuff" in made.roles for made in sound.contents(m))
    ]
    if not dyes or not mordants or sound.follows:
        return
    if any(_metals(sound, m) for _, m in dyes):
        return  # the mordant is in the dye bath too
    lines = sound.lines_of(s for s, _ in dyes)
    first = mordants[0].place.line
    saddened = [m for m in mordants if m.place.line > max(lines)]
    if saddened:  # iron after the dye is a mordant too
        return
    text = sound.without(*(s.place.line for s in mordants))
    yield fault(text, lines | {first}, "not mordanted")


@kind(
    "the mordant left out of its bath",
    "colour",
    finds="nothing-to-dye-with no-mordant",
    follows="bath-without-fibre never-used no-tannin too-little-mordant",
)
def mordant_dropped(sound: Sound) -> Iterator[Fault]:
    """A bath is made without its mordant. Found at the bath, its use, or the dye."""
    for step, moment in sound.of("prepare"):
        for item, made in sound.put_in(step):
            if not _entry(made, "metal") or "mordant" not in made.roles:
                continue
            if any("dyestuff" in m.roles for m in sound.contents(moment)):
                continue
            text = _without_item(sound, item.place)
            name = step.label.text if step.label is not None else ""
            lines = sound.lines_of([step, *sound.using(name)])
            lines |= sound.lines_of(s for s, _ in _wants_mordant(sound))
            yield fault(text, lines, f"no “{made.name.text}” in it")


def _without_item(sound: Sound, place: Place) -> str:
    """The text without one of the things that a step puts in."""
    row = sound.lines[place.line - 1]
    before, behind = row[: place.column - 1], row[place.to - 1 :].removeprefix(")")
    if re.search(r",\s*$", before):
        before = re.sub(r",\s*$", "", before)
    elif re.match(r",\s*", behind):
        behind = re.sub(r"^,\s*", "", behind)
    elif before.strip() == "" and sound.lines[place.line - 2].rstrip().endswith(","):
        lines = list(sound.lines)
        lines[place.line - 2] = lines[place.line - 2].rstrip().rstrip(",")
        lines[place.line - 1] = before + behind.strip()
        return "\n".join(lines)
    return sound.with_line(place.line, before + behind)


@kind(
    "the dyestuff left out of its bath",
    "colour",
    finds="nothing-to-dye-with",
    follows="never-used bath-without-fibre too-little-dyestuff vat-not-aired strong-alkali "
    "no-mordant alkali-left",
)
def dyestuff_dropped(sound: Sound) -> Iterator[Fault]:
    """A dye bath is made without its dyestuff. Found at the bath or where the fibre goes in."""
    for step, _ in sound.of("prepare"):
        name = step.label.text if step.label is not None else ""
        uses = sound.using(name)
        items = [(i, m) for i, m in sound.put_in(step) if "dyestuff" in m.roles]
        others = [m for _, m in sound.put_in(step) if "dyestuff" not in m.roles]
        if len(items) != 1 or any(_entry(m, "metal") for m in others):
            continue
        if not any(u.effect in GOES_IN for u in uses):
            continue
        text = _without_item(sound, items[0][0].place)
        yield fault(text, sound.lines_of(uses), f"no “{items[0][1].name.text}” in it")


@kind(
    "no tannin before alum on cotton",
    "colour",
    finds="no-tannin",
    follows="bath-without-fibre never-used soaked-too-briefly pot-not-free nothing-to-dye-with",
)
def tannin_dropped(sound: Sound) -> Iterator[Fault]:
    """Cotton is mordanted with alum without tannin. Found at the dye or the mordanting.

    Aluminium acetate holds without tannin and is left alone.
    """
    tannins = [
        s
        for s, m in sound.of("treat")
        if any("tannin" in made.roles for made in sound.contents(m)) and not _metals(sound, m)
    ]
    if not tannins or sound.follows:
        return
    dyes = _wants_mordant(sound)
    alums = [s for s, m in sound.of("treat") if _metals(sound, m)]
    acetate = any(
        "acetate" in made.called for _, m in sound.of("treat") for made in _metals(sound, m)
    )
    if dyes and alums and not acetate:
        text = sound.without(*(s.place.line for s in tannins))
        lines = sound.lines_of([*alums, *(s for s, _ in dyes), *tannins])
        yield fault(text, lines, "no tannin")


@kind(
    "tannin above 60 °C on cotton",
    "colour",
    finds="tannin-too-hot",
    follows="heat-shock heated-unattended",
)
def tannin_hot(sound: Sound) -> Iterator[Fault]:
    """Cotton or linen lies in tannin at 85 °C (Mairet, ch. X: not above 60 °C). Found there."""
    for step, moment in sound.of("treat"):
        place = _hottest(sound, step)
        tannin = any("tannin" in made.roles for made in sound.contents(moment))
        if place is None or not tannin or _metals(sound, moment):
            continue
        if _is(sound.fibres(moment), "class", "cellulose"):
            text = sound.put(place, "85 °C")
            yield fault(text, sound.extent(step.place.line), "tannin at 85 °C")


@kind(
    "madder boiled an hour",
    "colour",
    finds="dyestuff-too-hot",
    least="note",
    follows="heat-changed-fast stirred-hot heat-shock too-hot-for-fibre",
)
def madder_boiled(sound: Sound) -> Iterator[Fault]:
    """Fibre is boiled an hour in madder (Mairet, ch. VI: ten minutes or less). Found there.

    Where a brown or a plum is among what is made, only a note: the book boils madder for browns.
    """
    for step, moment in sound.of("treat"):
        place = _hottest(sound, step)
        if place is None or step.lasting is None:
            continue
        if any(made.called == "madder" for made in sound.contents(moment)):
            text = sound.puts([(place, "boil"), (step.lasting.place, "1 h")])
            yield fault(text, sound.extent(step.place.line), "madder boiled for 1 h")


def _percent(sound: Sound, metal: str, words: str, *classes: str) -> Iterator[Fault]:
    for step, moment in sound.of("prepare", "add"):
        if any(_entry(m, "dye_class") == "vat" for m in sound.contents(moment)):
            continue
        for item, made in sound.put_in(step):
            quantity = item.quantity
            if quantity is None or quantity.kind != "percent" or _entry(made, "metal") != metal:
                continue
            states = [
                state
                for lot in sound.plan.flow.treats.get(moment.node.bath, ())
                if (state := sound.plan.trace.final.lots.get(lot)) is not None
            ]
            if not _is(states, "class", *classes) or _entry(made, "protein_excess") == "100":
                continue  # a plant that holds alum is taken by the half weight of the fibre
            number = re.match(r"[\d.]+( to [\d.]+)?", quantity.text)
            if number is not None:
                place = quantity.place._replace(to=quantity.place.column + number.end())
                lines = sound.lines_of([step])
                yield fault(sound.put(place, words), lines, f"{words} % of {made.called}")


@kind("alum at 40 % on wool", "colour", finds="too-much-mordant", follows="too-little-liquor")
def alum_excess(sound: Sound) -> Iterator[Fault]:
    """Above 25 % alum makes wool sticky (Mairet, ch. II). Found where it is weighed out."""
    yield from _percent(sound, "aluminium", "40", "protein")


@kind("iron at 40 %", "colour", finds="too-much-mordant")
def iron_excess(sound: Sound) -> Iterator[Fault]:
    """Iron hardens wool and rots cloth; 20 % of it is the book's most, for a black on cotton.

    (Mairet 1938, ch. II and black on cotton.) Found where it is weighed.
    """
    yield from _percent(sound, "iron", "40", "protein", "cellulose")


@kind("iron at 15 % for no dark colour", "colour", finds="too-much-mordant")
def iron_for_pale(sound: Sound) -> Iterator[Fault]:
    """Three times what wool bears, where no black, brown or grey is wanted.

    Found where it is weighed.
    """
    dark = re.compile(r"black|brown|grey|gray|dark|olive|moss|old gold|raven|fox", re.IGNORECASE)
    heads = [name.text for name in (sound.model.title, sound.model.makes) if name is not None]
    if not any(dark.search(text) for text in heads):
        yield from _percent(sound, "iron", "15", "protein", "cellulose")


# What a salt of tin or chrome wants besides, where it takes the place of alum.
POISON = (
    "no-gloves no-eye-protection left-uncovered left-unlabelled no-disposal wrong-way-out "
    "poison-not-washed-out children-near-hazard pot-not-cleaned no-fresh-air dust-in-the-air "
    "restricted-salt must-not-meet meet-in-the-waste metal-in-the-waste mordant-not-rinsed"
)


def _other_salt(sound: Sound, salt: str, share: str) -> Iterator[Fault]:
    for one in _percent(sound, "aluminium", share, "protein"):
        rows = one.text.split("\n")
        for made in sound.model.materials.values():
            if _entry(made, "metal") == "aluminium":
                at = made.name.place.line - 1
                rows[at] = re.sub(r"(:\s+)[^,]+", rf"\g<1>{salt}", rows[at], count=1)
        yield one._replace(text="\n".join(rows), said=f"{share} % of {salt} for the alum")


@kind("chrome at 8 %", "colour", finds="too-much-mordant", follows=POISON)
def chrome_excess(sound: Sound) -> Iterator[Fault]:
    """Alum becomes 8 % of dichromate; above 4 % is more than wool bears (Mairet, ch. II).

    Found where it is weighed.
    """
    yield from _other_salt(sound, "potassium dichromate", "8")


@kind("tin at 12 %", "colour", finds="too-much-mordant", follows=POISON)
def tin_excess(sound: Sound) -> Iterator[Fault]:
    """Alum becomes 12 % of stannous chloride (Mairet 1938: 2 to 8 %, once 10 for a scarlet).

    Found where it is weighed out.
    """
    yield from _other_salt(sound, "stannous chloride", "12")


@kind(
    "tin at 8 % without oxalic acid",
    "colour",
    finds="tin-without-oxalic-acid",
    least="note",
    follows=POISON,
)
def tin_without_acid(sound: Sound) -> Iterator[Fault]:
    """Alum becomes 8 % of stannous chloride, and neither oxalic acid nor tartar is beside it.

    (Mairet, ch. II: 4 % with 2 % oxalic acid; elsewhere tartar.) A note, found where it is
    weighed out.
    """
    for one in _other_salt(sound, "stannous chloride", "8"):
        beside = [
            made.called
            for step in sound.steps
            if step.place.line in one.lines
            for made in sound.contents(sound.moments[step.place.line])
        ]
        if not {"oxalic acid", "cream of tartar"} & set(beside):
            yield one


# ------------------------------------------------------------------ vats


@kind("the airing left out", "colour", finds="vat-not-aired", follows="heat-shock")
def airing_dropped(sound: Sound) -> Iterator[Fault]:
    """Fibre is not aired after a dip. Found at the next dip or water, or at the dip itself."""
    for step, moment in sound.of("air"):
        if not any(state.dipped is not None and not state.aired for state in sound.fibres(moment)):
            continue
        lots = set(moment.node.lots)
        dips = [
            s
            for s, m in sound.of("dip")
            if set(m.node.lots) & lots and s.place.line < step.place.line
        ]
        later = [
            m.step
            for m in sound.moments.values()
            if m.step.place.line > step.place.line
            and m.node.effect in ("dip", "treat", "rinse", "wash")
        ]
        lines = sound.lines_of([*dips[-1:], *later[:1]])
        yield fault(sound.without(step.place.line), lines, "not aired")


@kind("aired for a minute", "colour", finds="aired-too-briefly unlikely-time")
def airing_short(sound: Sound) -> Iterator[Fault]:
    """Fibre is aired for a minute after ten or more in the vat (Mairet, ch. V: as long).

    Found at the airing.
    """
    for step, moment in sound.of("air"):
        long = any(
            s.dipped is not None and s.dipped[0] >= 5 and not s.aired for s in sound.fibres(moment)
        )
        if long and step.lasting is not None:
            text = sound.put(step.lasting.place, "1 min")
            yield fault(text, sound.extent(step.place.line), "aired for 1 min")


def _vat_without(sound: Sound, *roles: str) -> Iterator[Fault]:
    for step, moment in sound.of("prepare", "add"):
        if moment.bath_after is None:
            continue
        dips = [s for s, m in sound.of("dip") if m.node.bath == moment.node.bath]
        if not dips:
            continue
        vat = [
            m
            for m in sound.contents(sound.moments[dips[0].place.line])
            if any(role in m.roles for role in roles)
        ]
        for item, made in sound.put_in(step):
            if [m.name.text for m in vat] == [made.name.text] and "dyestuff" not in made.roles:
                name = sound.plan.study.called(moment.node.bath)
                lines = sound.lines_of(sound.using(name)) | set(sound.extent(step.place.line))
                yield fault(_without_item(sound, item.place), lines, f"no “{made.name.text}”")


@kind("no reducer in the vat", "colour", finds="vat-without-reducer", follows="never-used")
def no_reducer(sound: Sound) -> Iterator[Fault]:
    """The vat has nothing that takes the oxygen out. Found at the vat or at a dip."""
    yield from _vat_without(sound, "reducer", "food for ferment")


@kind(
    "no alkali in the vat",
    "colour",
    finds="vat-without-alkali",
    # What a note says of the lime is said of nothing that is declared, where the lime is gone.
    follows="never-used danger-in-free-words",
)
def no_alkali(sound: Sound) -> Iterator[Fault]:
    """The vat has no alkali. Found at the vat or at a dip."""
    yield from _vat_without(sound, "alkali")
