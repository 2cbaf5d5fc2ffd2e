"""``vatwright weigh``: every amount of a procedure, for the fibre or the plants at hand."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Callable, Iterator
from fractions import Fraction
from pathlib import Path
from typing import TYPE_CHECKING, TypeVar

from procedure.command.in_and_out import plan_of
from procedure.command.main import CannotRun
from procedure.command.printing import put_data
from procedure.findings import Finding, at_least

if TYPE_CHECKING:
    from procedure.batch.used_and_left import Stock
    from procedure.model import Quantity
    from procedure.pipeline import Judged
    from procedure.report.weigh_measures import ScaleStep
    from procedure.report.weigh_text import Request
    from procedure.weigh.weighed import Weighing

FORMATS = ("text", "csv", "json")
SYSTEMS = ("metric", "us", "imperial", "both")
Asks = TypeVar("Asks")


MEASURED = frozenset(("--fibre", "--skeins", "--have", "--swap", "--scale-step"))


def as_spoken(words: list[str]) -> list[str]:
    """The command's words, with a unit that stands apart from its number put back to it.

    People write ``--fibre 600 g`` as they say it, without quotation marks.
    """
    from procedure.vocabulary import vocabulary

    units = vocabulary().units
    joined: list[str] = []
    for word in words:
        measure = len(joined) > 1 and joined[-2] in MEASURED and joined[-1][-1:].isdigit()
        if measure and word in units:
            joined[-1] += f" {word}"
        else:
            joined.append(word)
    return joined


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """The arguments of ``weigh``."""
    add = parser.add_argument
    add("file", metavar="FILE", help="a procedure, or - for standard input")
    add(
        "--fibre",
        action="append",
        default=[],
        metavar="[LOT=]WEIGHT",
        help="work it out for so much fibre, such as 600 g or yarn=600 g; more than once for "
        "several lots",
    )
    add(
        "--skeins",
        action="append",
        default=[],
        metavar="[LOT=]COUNT",
        help="the same by skeins or pieces as heavy as the written ones",
    )
    add(
        "--have",
        action="append",
        default=[],
        metavar="MATERIAL=AMOUNT",
        help="how much fibre will so much of a material dye? more than once for several",
    )
    add(
        "--swap",
        action="append",
        default=[],
        metavar="MATERIAL=OTHER",
        help="another salt of the same metal, another tannin, dried or fresh, or a solution",
    )
    add(
        "--units",
        choices=SYSTEMS,
        help="the measures to print: metric, us, imperial or both; those of the procedure where "
        "nothing is said (metric in JSON and CSV)",
    )
    add("--scale-step", metavar="WEIGHT", help="the least that the scale tells, such as 0.1 g")
    add("--format", choices=FORMATS, default="text", help="the form of the sheet")
    add(
        "--shop",
        action="store_true",
        help="the list for the shop instead: what to buy, gather and have at hand, what is missing "
        "from the stock and what it costs",
    )
    add("--explain", action="store_true", help="show the sum behind each number")


def run(arguments: argparse.Namespace) -> int:
    """Weigh; 0 where all is well, 1 where the amounts bring up errors, 2 where it cannot run."""
    written = plan_of(arguments.file)
    plan, asked = _guarded(lambda: _worked_out(written, arguments))
    step = _guarded(lambda: _scale_step(arguments.scale_step))
    made = _guarded(lambda: _report(plan, asked, step, arguments))
    (sys.stdout.write if arguments.format == "text" else put_data)(made)
    return 1 if any(at_least(finding.level, "error") for finding in asked.findings) else 0


def _guarded(sum_: Callable[[], Asks]) -> Asks:
    """The outcome of a sum; one that cannot be done is told in its own sentence."""
    from procedure.weigh.cannot import CannotWeigh

    try:
        return sum_()
    except CannotWeigh as reason:
        raise CannotRun(str(reason)) from None


def _report(
    plan: Judged, asked: Request, step: ScaleStep | None, arguments: argparse.Namespace
) -> str:
    from procedure.command.voice import voice_of
    from procedure.facts import pot_fit
    from procedure.weigh import heating
    from procedure.weigh.weighing import weigh

    weighing = weigh(plan)
    voice = voice_of(plan, arguments.units)
    if arguments.units is None:
        arguments.units = voice.units if arguments.format == "text" else "metric"
    if arguments.shop:
        return _shop(plan, weighing, arguments, voice.spelling)
    if arguments.format == "csv":
        from procedure.report import weigh_csv

        return weigh_csv.report(weighing, arguments.units, step)
    fits = pot_fit.fits(plan.study)
    from procedure.report.weigh_text import Estimates

    estimates = Estimates(heating.heatings(plan), heating.coolings(plan), heating.steamings(plan))
    if arguments.format == "json":
        from procedure.report import weigh_json

        return weigh_json.report(weighing, fits, estimates, asked, arguments.units, step)
    from procedure.report import weigh_text

    reader = voice.reader or weigh_text.METRIC._replace(spelling=voice.spelling)
    return weigh_text.report(
        weighing, fits, estimates, asked, arguments.units, step, arguments.explain, reader
    )


def _shop(plan: Judged, weighing: Weighing, arguments: argparse.Namespace, spelling: str) -> str:
    from procedure.collection.shop import StockHeld
    from procedure.facts.handling import deadly_words
    from procedure.paper.measures import Voice
    from procedure.report import shopping_text
    from procedure.weigh.shopping import errands
    from procedure.wording.reader import of_system

    if arguments.format != "text":
        raise CannotRun("the list for the shop is text; leave --format out.")
    units = arguments.units
    reader = None if units == "both" else of_system(units, spelling)
    voice = Voice(units, spelling, reader)
    title = plan.model.title.text if plan.model.title else plan.file
    stock = _stock(plan)
    left = {
        one.name: StockHeld(one.kind, max(one.left, Fraction(0)))
        for one in (stock.left if stock is not None else ())
    }
    told = shopping_text.report(
        errands(plan, weighing, left), title, voice, deadly_words(plan.study)
    )
    errors = sum(found.level == "error" for found in plan.findings)
    if errors:  # a procedure that could not be followed leaves all that it needs out
        told += f"The procedure has {errors} error{'s' if errors > 1 else ''}: check it before "
        told += "you buy; things may be missing here.\n"
    return told + "".join(f"{said}\n" for said in _of_stock(stock))


def _stock(plan: Judged) -> Stock | None:
    """What is left of the workshop's stock; None for a text that is in no folder."""
    from procedure.batch.used_and_left import stock_now

    path = Path(plan.file)
    return stock_now(path) if path.is_file() else None


def _of_stock(stock: Stock | None) -> Iterator[str]:
    """How the stock is known, and what of it is not."""
    if stock is None or not stock.left:
        return
    counted = stock.left[0].counted
    if counted is None:
        yield "The stock is as the workshop file says; it does not say when that was counted."
    else:
        many = max(one.batches + one.unknown for one in stock.left)
        since = "what the records used since is taken off" if many else "no record used any since"
        yield f"The stock was counted on {counted.isoformat()}; {since}."
    yield from stock.amiss


def _worked_out(written: Judged, arguments: argparse.Namespace) -> tuple[Judged, Request]:
    """The plan that was asked for: swapped, then turned round, then scaled."""
    from procedure.command.voice import voice_of
    from procedure.quantity.rounding import at_most
    from procedure.report.weigh_measures import ounce_of
    from procedure.report.weigh_text import Request
    from procedure.rework.backwards import most
    from procedure.rework.scaling import scale
    from procedure.rework.swapping import swap
    from procedure.rework.whole_skeins import whole_pieces
    from procedure.wording.reader import of_system

    plan, sentences, backwards = written, [], None
    whole: list[str] = []
    for said in arguments.swap:
        name, other = _named(said, "--swap", 'alum="aluminium sulphate"')
        swapped = swap(plan, name, other)
        plan = swapped.plan
        sentences.append(swapped.sentence)
    weights = weights_asked(plan, arguments)
    if arguments.have:
        units = arguments.units
        reader = of_system(units) if units not in (None, "both") else None
        backwards = most(plan, _have(arguments.have), weights, reader)
        ounce = ounce_of(units or voice_of(plan, None).units)
        sure = {**at_most(backwards.sure, ounce), **backwards.in_pieces}
        weights = {**weights, **sure}
        whole = whole_pieces(plan, sure)
    if weights:
        scaled = scale(plan, weights)
        plan = scaled.plan
        sentences += [scaled.sentence, *whole]
    return plan, Request(tuple(sentences), backwards, _brought_up(written, plan))


def _brought_up(written: Judged, plan: Judged) -> tuple[Finding, ...]:
    """The findings that the text as written does not have."""
    before = {(found.rule, found.line, found.sentence) for found in written.findings}
    return tuple(
        found
        for found in plan.findings
        if (found.rule, found.line, found.sentence) not in before
        and at_least(found.level, "warning")
    )


def _named(said: str, option: str, example: str) -> tuple[str, str]:
    name, mark, value = said.partition("=")
    if not mark or not name.strip() or not value.strip():
        raise CannotRun(
            f"“{said[:60]}” does not fit {option}; write for example {option} {example}."
        )
    return name.strip(), value.strip()


def _have(said: list[str]) -> dict[str, Quantity]:
    from procedure.rework import amounts_asked_for

    found: dict[str, Quantity] = {}
    for one in said:
        name, value = _named(one, "--have", 'tansy="800 g"')
        if name in found:
            raise CannotRun(f"{name} is given twice; say --have once for each material.")
        found[name] = amounts_asked_for.amount(value, name)
    return found


def weights_asked(plan: Judged, arguments: argparse.Namespace) -> dict[str, Fraction]:
    """Grams of each lot that --fibre and --skeins give."""
    from procedure.rework import amounts_asked_for
    from procedure.rework.scaling import shared_out
    from procedure.rework.whole_skeins import in_pieces, pieces_shared_out

    found: dict[str, Fraction] = {}
    options = (("--fibre", arguments.fibre), ("--skeins", arguments.skeins))
    for option, one in [(option, one) for option, said in options for one in said]:
        name, mark, value = one.partition("=")
        lot = _lot(plan, name.strip()) if mark else ""
        text = value.strip() if mark else one.strip()
        if option == "--fibre":
            grams = amounts_asked_for.weight(text, lot or "the fibre").ends.middle
            made = {lot: grams} if lot else shared_out(plan, grams)
        else:
            count = amounts_asked_for.count(text, lot or "skeins")
            made = {lot: in_pieces(plan, lot, count)} if lot else pieces_shared_out(plan, count)
        twice = sorted(found.keys() & made.keys())
        if twice:
            raise CannotRun(f"The weight of {twice[0]} is given twice.")
        found.update(made)
    return found


def _lot(plan: Judged, name: str) -> str:
    from procedure.vocabulary import near

    lots = plan.model.lots
    if name in lots:
        return name
    made = next((o for o in plan.flow.lots.values() if o.name == name and o.parts), None)
    if made is not None:
        parts = " and ".join(plan.study.called(part) for part in made.parts)
        raise CannotRun(
            f"{name} is made from {parts} in the procedure; give the weight of {parts}."
        )
    meant = near(name, list(lots)) or (next(iter(lots)) if len(lots) == 1 else None)
    hint = f" Did you mean “{meant}”?" if meant else ""
    raise CannotRun(f"The procedure declares no fibre “{name[:40]}”.{hint}")


def _scale_step(said: str | None) -> ScaleStep | None:
    if said is None:
        return None
    from procedure.report.weigh_measures import ScaleStep
    from procedure.rework import amounts_asked_for

    quantity = amounts_asked_for.amount(said, "the scale's step")
    low, high = quantity.ends
    if low != high:
        raise CannotRun(f"“{said}” is a range; say one step, such as 0.1 g.")
    return ScaleStep(quantity.kind, low)
