"""What a verb does: one record for each effect, read from ``data/effects.csv``.

Nothing else in the code knows a verb or an effect by its name. A rule, a paper or the
trace asks a trait (``node.does.warms``), and what is done with a step is found by the
keys of its record: ``part`` in the flow, ``trace`` in the trace, ``sentence`` in the
papers. A row of ``verbs.csv`` may add traits to those of its effect, or take one away
(``not raises dust``).
"""

from collections.abc import Iterable, Mapping
from functools import cache

from procedure.quantity.record import NamedTuple
from procedure.vocabulary.data_files import parts, rows


class Unfit(ValueError):
    """The data files and the code do not fit together: a trait or a part without a meaning."""


class Effect(NamedTuple):
    """What a verb does, as questions with yes or no.

    ``part`` is what the flow makes of a step with it, ``trace`` what the trace does,
    ``sentence`` the form of its sentence in the papers; ``heat`` is the word of
    ``words.csv`` for the heat that the verb itself means, or empty. A trait is no where
    its row does not name it; all are no of a step without a verb.
    """

    name: str = ""
    part: str = ""
    trace: str = ""
    sentence: str = ""
    heat: str = ""

    # Where fibre is: it goes into a bath or water, or comes out, or hangs in the air.
    puts_fibre_in: bool = False
    """Fibre goes into the bath that the step names."""
    bath_after_into: bool = False
    """The bath may be named after ``into`` as well as after ``in``."""
    meets_bath: bool = False
    """Fibre meets what a bath holds."""
    takes_out: bool = False
    """Fibre comes out of the bath and goes nowhere that the flow follows."""
    fibre_out_after: bool = False
    """No fibre of the step is in a bath when it is done."""
    stays_in_its_bath: bool = False
    """Fibre that is in a bath stays there all the same."""
    own_water: bool = False
    """The step brings its own water, unless it names a bath."""
    first_water: bool = False
    """The first water that dry fibre meets."""
    in_air: bool = False
    """It happens in the air: no heat is told of it, and no lot goes into a bath."""
    still_hot: bool = False
    """Fibre that came out of a bath just now is as hot as it was."""
    round_fibre: bool = False
    """What a bath does while fibre lies in it, which is part of that fibre's story."""
    gives_colour: bool = False
    """The small label tells of it: what a lot's colour came from."""

    # What fibre goes through.
    splits: bool = False
    joins: bool = False
    wets: bool = False
    scours: bool = False
    rinses: bool = False
    washes: bool = False
    dries: bool = False
    """Fibre is dry when it is done."""
    presses: bool = False
    """Liquor is pressed out of fibre, and runs into something."""
    unheated: bool = False
    """Fibre lies in the bath for its time, and nobody heats it."""
    airs: bool = False
    dips: bool = False
    washes_out: bool = False
    """Clean water takes loose matter out of the fibre."""
    prepares_fibre: bool = False
    """Fibre is readied for the dye: it counts as scoured or mordanted before."""
    moves_fibre: bool = False
    """Fibre is moved about, as with ``stirring``."""

    # Bags, and the plants in them.
    bags: bool = False
    """It handles a bag."""
    bag_in: bool = False
    bag_out: bool = False
    lifts_matter: bool = False
    throws_matter_out: bool = False
    presses_plants: bool = False
    """Plants are squeezed by hand, loose or in a bag; they stay where they are held."""

    # What happens to a bath.
    moves_liquor: bool = False
    """The bath is stirred, and cools a little by it."""
    moves_lid: bool = False
    puts_lid_on: bool = False
    makes_bath: bool = False
    """A label on the step names a bath that it makes."""
    prepares: bool = False
    """It always makes a bath."""
    known_by_pot: bool = False
    """With water in a pot it makes a bath without a label too, known by the pot."""
    adds: bool = False
    tops_up: bool = False
    strains: bool = False
    draws_off: bool = False
    empties: bool = False
    stores: bool = False
    names_bath: bool = False
    """``as`` gives a bath a name."""
    settles: bool = False
    """A bath left so for a night comes to the heat of the room."""

    # Heat and time.
    warms: bool = False
    to_a_heat: bool = False
    """A heat after ``at`` is the one that the bath comes to."""
    brings_to_heat: bool = False
    """It makes a bath hotter, and the heater is part of the sentence."""
    cools: bool = False
    changes_heat: bool = False
    """A target heat on the wrong side of the start is a slip."""
    keeps_heat: bool = False
    """Time in a bath that goes on at a heat."""
    says_heat: bool = False
    """The step counts as one that says its heat, written or not."""
    held_hot: bool = False
    """With a heat, the bath is over the heater all the while."""
    over_heat: bool = False
    """The step may name its heater with ``on``."""
    heats_own_water: bool = False
    """Water that it brings is warmed up with the fibre in it."""
    poured_at_its_heat: bool = False
    """Water that it brings is poured in at the heat said."""
    takes_time: bool = False
    """It counts as waiting though nobody says how long."""

    # Hands, pots, lids.
    hands_in: bool = False
    """Hands come near the liquor."""
    fibre_in_hand: bool = False
    """Wet fibre is in the hands."""
    left_standing: bool = False
    """It can leave liquor or soaking plants where they are with nobody beside them."""
    left_covered: bool = False
    """A lid stays on afterwards."""
    cleans: bool = False

    # Materials.
    gathers: bool = False
    readies: bool = False
    """A material before any water."""
    raises_dust: bool = False
    """A dry material is made so fine that it is in the air."""
    in_water: bool = False
    """A material lies in water."""
    ahead: bool = False
    """Can be done on the day before."""

    # Papers.
    main: bool = False
    """A station of the overview."""

    @property
    def makes_lots(self) -> bool:
        """It gives lots that were not there before."""
        return self.splits or self.joins

    @property
    def goes_in(self) -> bool:
        """Fibre goes into a bath, and it is not said what it does there."""
        return self.puts_fibre_in and self.bath_after_into


NOTHING = Effect()
"""What a step without a verb does, as far as anybody knows."""

_PLACES = {name: at for at, name in enumerate(Effect._fields)}
TRAITS = frozenset(name for name, usual in Effect._field_defaults.items() if usual is False)


def with_traits(effect: Effect, words: Iterable[str], where: str) -> Effect:
    """The effect with traits added, or taken away after ``not``.

    Raises :class:`Unfit` where a word is no trait; ``where`` says whose row it is.
    """
    changed = list(effect)
    for word in words:
        bare = word.removeprefix("not ")
        name = bare.replace(" ", "_")
        if name not in TRAITS:
            raise Unfit(f"{where}: “{bare}” is no trait; see procedure/vocabulary/effects.py.")
        changed[_PLACES[name]] = bare == word
    return Effect._make(changed) if changed != list(effect) else effect


@cache
def effects() -> dict[str, Effect]:
    """Every effect by its name.

    Raises :class:`Unfit` for a trait that no field of :class:`Effect` stands for, or an
    empty key.
    """
    found: dict[str, Effect] = {}
    for row in rows("effects"):
        name = row["effect"]
        for key in ("part", "trace", "sentence"):
            if not row[key]:
                raise Unfit(f"effects.csv, {name}: no {key}.")
        plain = Effect(name, row["part"], row["trace"], row["sentence"], row["heat"])
        found[name] = with_traits(plain, parts(row["traits"]), f"effects.csv, {name}")
    return found


def fit(key: str, known: Mapping[str, object], where: str) -> None:
    """Check, where a room is loaded, that it has something for each effect.

    ``key`` is part, trace or sentence. Raises :class:`Unfit` with the effects that the
    room does not know what to do with: better than a step of which nothing is said.
    """
    lacking = [
        f"{one.name} ({made})"
        for one in effects().values()
        if (made := getattr(one, key)) not in known
    ]
    if lacking:
        raise Unfit(f"{where} has nothing for the {key} of: {', '.join(lacking)}.")
