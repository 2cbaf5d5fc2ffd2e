"""The steps of a first procedure, one stage after the other, each with a comment that says why."""

from __future__ import annotations

from fractions import Fraction

from procedure.quantity.record import NamedTuple
from procedure.start.pots import Pots
from procedure.start.wish import Wish, minutes, number, roundly, up_the_range, usual, usual_range
from procedure.vocabulary import Entry, vocabulary, waste

HALF = Fraction(1, 2)
TANNIN = "oak galls"


class PartNames(NamedTuple):
    """What the parts of a text are called in it; empty where there is no such part."""

    lot: str
    dye: str
    mordant: str
    tannin: str
    after: str
    blue: str


class Writing(NamedTuple):
    """What every stage needs: what is asked for, the pots, the names."""

    asked: Wish
    pots: Pots
    called: PartNames

    def water(self, liquor: str = "liquor") -> str:
        """The water of a bath, by the fibre."""
        return f"water {number(usual(liquor))} : 1 of {self.called.lot}"

    def rinse(self, until: str = 'until "the water runs clear"') -> str:
        """A rinse in warm water."""
        lot, tub = self.called.lot, self.pots.tub
        return f"rinse {lot} in {tub} with {self.water()} at {_c('hand heat')} {until}"

    def cleaned(self) -> str:
        """The pot scrubbed before its next bath."""
        return f"clean {self.pots.pot}"


def _c(name: str) -> str:
    return f"{number(usual(name))} °C"


def _min(name: str) -> str:
    return minutes(usual(name))


def all_steps(writing: Writing) -> list[str]:
    """Every stage that is asked for, in order, with an empty line between two."""
    asked = writing.asked
    stages = [_clean(writing) if not asked.scoured else [], _wet(writing)]
    if asked.with_vat:
        stages.append(_vat(writing))
    if not asked.in_vat:
        if asked.mordant is not None and asked.wants_tannin:
            stages.append(_tannin(writing))
        if asked.mordant is not None:
            stages.append(_mordant(writing))
        stages.append(_dye(writing))
    if asked.after is not None:
        stages.append(_after(writing))
    stages.append(_finish(writing))
    lines: list[str] = []
    for stage in stages:
        # What has no comment of its own belongs to the stage before.
        own = bool(stage) and stage[0].startswith("#")
        lines += ["", *stage] if lines and own else stage
    return lines


# ------------------------------------------------------------------ before the dye


def _clean(writing: Writing) -> list[str]:
    lot, (pot, tub, *_) = writing.called.lot, writing.pots
    soap = "soap {} % of {}"
    if writing.asked.plant_fibre:
        scour = (
            f"scour {lot} in {pot} with {writing.water()}, "
            f"{soap.format(number(usual('plant scour soap')), lot)}, "
            f"soda {number(usual('plant scour soda'))} % of {lot} "
            f"from {_c('first heat')} to {_c('plant scour heat')} over 1 h for 1 h covered"
        )
        warm = f"rinse {lot} in {tub} with {writing.water()} at {_c('warm rinse')} for 10 min"
        return [
            "# Scour: wax and size keep colour out.",
            scour,
            warm,
            writing.rinse(),
            writing.cleaned(),
        ]
    scours = [
        f"scour {lot} in {tub} with {writing.water()}, {soap.format(number(usual(name)), lot)} "
        f"at {_c('wool scour heat')} for {time} gently"
        for name, time in (("wool scour soap", "30 min"), ("wool second scour soap", "15 min"))
    ]
    warm = f"rinse {lot} in {tub} with {writing.water()} at {_c('first heat')} for 5 min gently"
    return [
        "# Scour: grease keeps colour out. Wool that is rubbed or chilled in the water felts.",
        f"wet out {lot} in {tub} with {writing.water()} at {_c('first heat')} for 1 h",
        *scours,
        warm,
        writing.rinse('until "the water stays clear"'),
    ]


def _wet(writing: Writing, again: bool = False) -> list[str]:
    if not writing.asked.scoured and not again:
        return []
    lot, tub = writing.called.lot, writing.pots.tub
    least = Fraction(writing.asked.fibre.facts["wetting_min"] or 0)
    time = minutes(max(least, usual("wetting time")))
    return [
        "# Soak: wet through, fibre takes colour evenly."
        if not again
        else "# Soak again: the blue is dry, and may wait for another day.",
        f"wet out {lot} in {tub} with {writing.water()} at {_c('hand heat')} for {time}",
    ]


def _tannin(writing: Writing) -> list[str]:
    lot, galls = writing.called.lot, writing.called.tannin
    entry = vocabulary().material(TANNIN)
    assert entry is not None
    share = number(up_the_range(entry, "cellulose", HALF))
    heat = _c("tannin heat")
    return [
        "# Tannin: plant fibre holds a mordant only on it.",
        f"tannin-bath: prepare in {writing.pots.pot} with {writing.water()}, "
        f"{galls} {share} % of {lot} at {heat}",
        f"mordant {lot} in tannin-bath at {heat} for {_min('tannin time')} covered",
        f"rinse {lot} in {writing.pots.tub} with {writing.water()} at {_c('hand heat')} for 2 min",
        'discard tannin-bath to "foul drain"',
        writing.cleaned(),
    ]


def _mordant(writing: Writing) -> list[str]:
    asked, lot, name = writing.asked, writing.called.lot, writing.called.mordant
    assert asked.mordant is not None
    column = "cellulose" if asked.plant_fibre else "protein"
    share = number(up_the_range(asked.mordant, column, HALF))
    start = usual("first heat")
    warm = usual("cool mordant heat" if asked.wants_tannin else "mordant heat")
    warm = min(warm, _limit(asked.fibre.facts["heat_limit_c"]))
    bath = f"{name}-bath"
    # A salt that drains refuse does not stand in a house over a night, and tin makes wool harsh.
    night = "" if waste.refusals(asked.mordant, "drain") else " overnight"
    return [
        "# Mordant: it ties the colour to the fibre.",
        f"{bath}: prepare in {writing.pots.pot} with {writing.water()}, "
        f"{name} {share} % of {lot} at {number(start)} °C",
        f"mordant {lot} in {bath} from {number(start)} °C to {number(warm)} °C "
        f"over {_min('slow heating')} for {_min('mordant time')} covered",
        f"cool {bath} to {_c('hand heat')}{night} covered labelled",
        writing.rinse(),
        f'discard {bath} to "{_salt_out(asked.mordant)}"',
        # What is left of a salt in the tub would change the colour at the last rinse.
        f"{writing.cleaned()}, {writing.pots.tub}",
    ]


def _salt_out(salt: Entry) -> str:
    """Where the bath of a salt goes: what drains refuse goes where such waste is taken."""
    if waste.refusals(salt, "drain"):
        return "the collection of hazardous waste"
    return "foul drain, well watered down; never the garden"


def _limit(cell: str) -> Fraction:
    return (Fraction(cell) if cell else Fraction(100)) - usual("below the limit")


# ------------------------------------------------------------------ the dye


def _heat(asked: Wish) -> Fraction:
    """The hottest that dye and fibre bear, at most the usual heat of a dye bath."""
    limits = [asked.fibre.facts["heat_limit_c"], asked.dye.facts["heat_limit_c"]]
    if asked.plant_fibre or asked.wants_tannin:
        limits.append(asked.dye.facts["heat_limit_cellulose_c"])
    return min([usual("dye heat"), *(_limit(one) for one in limits if one)])


def _dye(writing: Writing) -> list[str]:
    asked, lot, name = writing.asked, writing.called.lot, writing.called.dye
    column = "dried" if usual_range(asked.dye, "dried") is not None else "fresh"
    share = number(up_the_range(asked.dye, column, HALF))
    heat = _heat(asked)
    start = min(usual("first heat"), heat - usual("below the limit"))
    dyeing = (
        f"dye {lot} in dye-bath from {number(start)} °C to {number(heat)} °C "
        f"over {_min('slow heating')} for {_min('dye time')} covered"
    )
    cooling = [f"cool dye-bath to {_c('hand heat')} covered"]
    made = f"dye-bath: prepare in {writing.pots.pot} with {writing.water()}, "
    made += f"{name} {share} % of {lot}"
    if writing.asked.extract:
        return [
            "# Dye: it dissolves; then the fibre goes in, and the heat rises slowly.",
            f"{made} at {number(start)} °C stirring",
            dyeing,
            *cooling,
        ]
    warm = min(heat, usual("extract heat"))
    return [
        "# Dye: the colour is drawn out first; then the fibre goes in, and the heat rises slowly.",
        f"{made} at 20 °C",
        f"heat dye-bath from 20 °C to {number(warm)} °C over {_min('slow heating')} covered",
        f"hold dye-bath at {number(warm)} °C for {_min('extract time')} covered",
        f"cool dye-bath to {number(start)} °C covered",
        f"strain dye-bath through {writing.pots.bag}",
        dyeing,
        *cooling,
    ]


def _vat(writing: Writing) -> list[str]:
    asked, lot = writing.asked, writing.called.lot
    pot, tub = writing.pots.pot, writing.pots.tub
    name = writing.called.blue or writing.called.dye
    dye = asked.over or asked.dye
    share = up_the_range(dye, "dried", usual("vat strength"))
    strength = roundly(share * 10 / usual("vat liquor"))  # % of the fibre to grams in a litre
    # A blue of which more is taken, as of woad, is given no less than its own weight of reducer.
    plant = asked.plant_fibre
    heat = usual("plant vat heat" if plant else "wool vat heat")
    grams = f"{name} {number(strength)} g/L"
    if plant:
        soda = number(usual("plant vat soda"))
        sugar = number(max(usual("plant vat fructose"), strength))
        make = [
            f"vat: prepare in {pot} with {writing.water('vat liquor')}, soda {soda} g/L, "
            f"fructose {sugar} g/L, {grams} at {_c('plant vat first heat')} stirring",
            f'  note "wet the {name} to a paste with a little warm water first"',
            f'stand vat for 1 to 2 h until "it is clear yellow-green under a coppery skin" '
            f"at {number(heat)} °C covered",
        ]
    else:
        reducer = number(max(usual("wool vat reducer"), strength))
        make = [
            f"vat: prepare in {pot} with {writing.water('vat liquor')}, "
            f"soda {number(usual('wool vat soda'))} g/L at {number(heat)} °C covered",
            f"add {grams}, reducer {reducer} g/L to vat stirring",
            f"stand vat for 45 to 60 min at {number(heat)} °C covered",
        ]
    times = number(usual("vat dips"))
    rinse = f"rinse {lot} in {tub} with {writing.water()}"
    sour = f"vinegar {number(usual('sour water'))} % of {lot}"
    lines = [
        "# Vat: in it the blue is dissolved; on the fibre the air brings it back.",
        *make,
        f'repeat {times} times until "the blue, which dries paler, is deep enough"',
        f"  dip {lot} in vat at {number(heat)} °C for {_min('dip time')}",
        f"  air {lot} for {_min('airing time')}",
        f'{rinse} at {_c("hand heat")} until "the water runs clear"',
        f"{rinse}, {sour} at {_c('hand heat')} for 10 min",
    ]
    if asked.in_vat:
        return lines
    lines += [writing.rinse(), f"dry {lot}", ""]
    return [*lines, *_spent_vat(writing, pot), "", *_wet(writing, again=True)]


def _spent_vat(writing: Writing, *used: str) -> list[str]:
    return [
        "# The spent vat: air uses up what is left in it, and only then it goes away.",
        'discard vat to "foul drain, once it has been stirred blue in the air and is cold"',
        f"clean {', '.join(used)}",
    ]


# ------------------------------------------------------------------ after the dye


def _after(writing: Writing) -> list[str]:
    asked, lot, name = writing.asked, writing.called.lot, writing.called.after
    assert asked.after is not None
    column = "cellulose" if asked.plant_fibre else "protein"
    share = number(up_the_range(asked.after, column, usual("after-bath strength")))
    start, heat = _c("first heat"), _c("after-bath heat")
    return [
        writing.rinse(),
        f'discard dye-bath to "{_way_out(writing)}"',
        writing.cleaned(),
        "",
        "# After-bath: a metal changes the colour within minutes; lift it when it is dark enough.",
        f"after-bath: prepare in {writing.pots.pot} with {writing.water()}, "
        f"{name} {share} % of {lot} at {start}",
        f"modify {lot} in after-bath from {start} to {heat} over 10 min "
        f"for {_min('after-bath time')} gently",
    ]


def _way_out(writing: Writing) -> str:
    """Where the dye bath goes, and what is done with the plant."""
    if writing.asked.extract:
        return "foul drain"
    dye = writing.asked.dye
    if "invasive plant" in waste.kinds(dye):
        return "foul drain; the plant, boiled through, goes in a tied bag where the council says"
    if waste.refusals(dye, "compost"):
        return "foul drain; what was strained out goes into the dustbin in a tied bag"
    return "foul drain; what was strained out is composted"


def _finish(writing: Writing) -> list[str]:
    asked, lot = writing.asked, writing.called.lot
    wash = (
        f"wash {lot} in {writing.pots.tub} with {writing.water()}, "
        f"soap {number(usual('soap'))} g/L at {_c('hand heat')} for 10 min"
    )
    lines = [
        "# Finish: what is loose goes out now, not later on a neck or a collar.",
        writing.rinse(),
        wash,
        writing.rinse(),
        f"dry {lot}",
    ]
    if asked.after is not None:
        lines.append(f'discard after-bath to "{_salt_out(asked.after)}"')
    elif not asked.in_vat:
        lines.append(f'discard dye-bath to "{_way_out(writing)}"')
    elif asked.in_vat:
        return [*lines, "", *_spent_vat(writing, writing.pots.pot, writing.pots.tub)]
    used = [writing.pots.pot, writing.pots.tub]
    if asked.with_plants:
        used.append(writing.pots.bag)
    return [*lines, f"clean {', '.join(dict.fromkeys(used))}"]
