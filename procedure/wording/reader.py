"""Whom a sentence is for: their units, their spelling, and where they read it."""

from collections import Counter
from collections.abc import Iterable

from procedure.findings import Sample
from procedure.quantity.record import NamedTuple
from procedure.vocabulary import Unit

FORMS = ("sentence", "line", "paper")
# The units of each system in which heats, weights and volumes are said.
SYSTEMS = {
    "metric": ("°C", "metric", "metric"),
    "us": ("°F", "customary", "us"),
    "imperial": ("°C", "customary", "imperial"),
}


class Reader(NamedTuple):
    """A reader of sentences.

    ``heat`` is °C or °F, ``mass`` metric or customary (ounces and pounds), ``volume``
    metric, us or imperial, ``spelling`` british or us. ``form`` is sentence (for a report),
    line (no line ends) or paper (a number is never parted from its unit).
    """

    heat: str = "°C"
    mass: str = "metric"
    volume: str = "metric"
    spelling: str = "british"
    form: str = "sentence"


def of_system(system: str, spelling: str = "british", form: str = "sentence") -> Reader:
    """The reader of a system: metric, us or imperial. Raises ``KeyError`` for another word."""
    return Reader(*SYSTEMS[system], spelling, form)


def of_units(units: Iterable[Unit], spelling: str = "british", form: str = "sentence") -> Reader:
    """The reader who writes in these units: for each kind those that are most often written.

    A kind of which nothing is written follows the other kinds. Where two are written
    equally often, the metric one is taken.
    """
    seen: dict[str, Counter[str]] = {
        "temperature": Counter(),
        "mass": Counter(),
        "volume": Counter(),
    }
    for unit in units:
        if unit.kind in seen:
            seen[unit.kind][_system(unit)] += 1
    whole: Counter[str] = Counter()
    for counted in seen.values():
        whole.update(
            {("metric" if key in ("°C", "metric") else key): n for key, n in counted.items()}
        )
    customary = whole["customary"] + whole["us"] + whole["imperial"] + whole["°F"]
    metric = whole["metric"] >= customary
    us = seen["volume"]["us"] + (seen["temperature"]["°F"] > 0) > seen["volume"]["imperial"]
    other = SYSTEMS["metric"] if metric else SYSTEMS["us" if us else "imperial"]
    return Reader(
        _most(seen["temperature"], ("°C", "°F")) or other[0],
        _most(seen["mass"], ("metric", "customary")) or other[1],
        _most(seen["volume"], ("metric", "us", "imperial")) or other[2],
        spelling,
        form,
    )


def spelling_of(units: Iterable[Unit | None]) -> str:
    """us for whoever writes in US gallons, quarts, pints or ounces, else british."""
    american = any(unit is not None and unit.name.startswith("US ") for unit in units)
    return "us" if american else "british"


def shown(sample: Sample, reader: Reader) -> str:
    """An amount of an example, in the units that a reader has for its kind."""
    if sample.kind == "temperature":
        return sample.metric if reader.heat == "°C" else sample.us
    if sample.kind == "mass":
        return sample.metric if reader.mass == "metric" else sample.us
    return {"metric": sample.metric, "us": sample.us}.get(reader.volume, sample.imperial)


def _system(unit: Unit) -> str:
    if unit.kind == "temperature":
        return unit.name
    if unit.name.startswith("US "):
        return "us"
    if unit.name.startswith("imp "):
        return "imperial"
    if unit.vague:  # a gallon that may be either
        return "customary"
    return "customary" if unit.name in ("oz", "lb") else "metric"


def _most(counted: Counter[str], choices: tuple[str, ...]) -> str:
    """The choice that is seen most often, the first of equals; nothing where none is seen."""
    best = max(choices, key=lambda choice: (counted[choice], -choices.index(choice)))
    return best if counted[best] else ""
