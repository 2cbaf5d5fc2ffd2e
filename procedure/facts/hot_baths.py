"""The gas that a heated bath gives off, where there is enough of it to harm a whole room."""

from __future__ import annotations

from procedure.facts.handling import Handled, declared
from procedure.facts.liquor import pure
from procedure.facts.study import Study
from procedure.vocabulary import Entry, vocabulary
from procedure.vocabulary.hot_gases import HotGas, hot_gas


def much_gas(study: Study, one: Handled) -> HotGas | None:
    """The gas of a steaming bath, where it may hold more of it than a room bears.

    An amount that nobody knows is no such amount. Source: the gas's own.
    """
    made = declared(study, one.thing)
    bath = one.moment.bath_after or one.moment.bath_before
    if one.how != "steam" or made is None or made.entry is None or bath is None:
        return None
    gas = hot_gas(made.entry.name)
    content = bath.contents.get(one.thing)
    if gas is None or content is None or content.grams is None:
        return None
    grams = pure(content.grams, made)
    most = content.grams[1] * gas.unstated if made.strength is None or grams is None else grams[1]
    return gas if most >= gas.least else None


def gas_given_off(study: Study, one: Handled) -> tuple[Entry, ...]:
    """The hazard of that gas, a row of ``ghs.csv``; empty where there is none."""
    gas = much_gas(study, one)
    return (vocabulary().tables["ghs"][gas.carries],) if gas is not None else ()


def gas_source(study: Study, one: Handled) -> tuple[str, ...]:
    """Where it stands that the gas harms so; empty where there is none."""
    gas = much_gas(study, one)
    return (gas.source,) if gas is not None else ()
