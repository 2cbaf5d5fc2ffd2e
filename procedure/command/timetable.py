"""``vatwright timetable``: when to do what, with the pots, plates and hands that there are."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Callable
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING

from procedure.command.in_and_out import plan_of
from procedure.command.main import CannotRun
from procedure.command.outputs import add_overwrite, write_output
from procedure.command.printing import put_data, say, warn
from procedure.command.progress import at_work
from procedure.command.when_asked import what_is_asked
from procedure.quantity.number_words import listed

if TYPE_CHECKING:
    from procedure.pipeline import Judged
    from procedure.timetable import Agenda, NoPlan, Relief, Timetable
    from procedure.timetable.terms import Asked

_MOST_ERRORS = 6
_MUCH = 60
FORMATS = ("text", "json", "csv", "ics", "svg", "png", "pdf")


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """The arguments of ``timetable``."""
    add = parser.add_argument
    add("files", metavar="FILE", nargs="+", help="procedures that share the workshop")
    add("--start", metavar="WHEN", help="when it begins, as in “2030-06-01 09:00” (next full hour)")
    add("--hours", help="when somebody can be there (as the workshop file says; 9:00-18:00)")
    add("--days", help="on which days: sat,sun, weekdays, dates, or both (every day)")
    add("--finish-by", metavar="WHEN", help="when all has to be over")
    add("--hands", help="how many people, or their names: 2, or Ada,Bo (1)")
    add(
        "--participants",
        metavar="NAMES",
        help="those who work at the lots of their names alone: Elder,Hazel; --hands then teach",
    )
    add(
        "--rings",
        metavar="NUMBER",
        help="how many pots can be heated at once (one a hotplate declared)",
    )
    add("--pots", metavar="NAMES", help="of which pots there are several: kettle=2,tub=3")
    add("--sinks", metavar="NUMBER", help="how many can rinse at a tap or pour away at once (any)")
    add("--line", metavar="WEIGHT", help="how much fibre can hang to dry at once: 2 kg, 1 lb")
    add("--zone", metavar="NAME", help="the time zone, as in Europe/London (the clock as it is)")
    add(
        "--done",
        action="append",
        default=[],
        metavar="STEP=TIME",
        help="a step that is over, by label, line or printed number, of one lot “6 hazel=10:40”; "
        "the rest is planned again",
    )
    add("--record", metavar="RECORD", help="a batch record, for what is done and when")
    add(
        "--now",
        metavar="WHEN",
        help="the time from which the rest is planned, 14:30 or “2030-06-01 14:30” (by the clock)",
    )
    add("--format", choices=FORMATS, help="text (the default), or what the name after -o ends in")
    add("-o", metavar="OUT", dest="out", help="where to write it")
    add(
        "--who",
        metavar="NAME",
        help="what one person alone has to do, as a calendar or text",
    )
    add("--paper", choices=("a4", "letter"), default="a4", help="the size of the drawing (a4)")
    add_overwrite(parser)


def run(arguments: argparse.Namespace) -> int:
    """Plan and print; 0 where there is a plan, 1 where there is none, 2 where it could not run."""
    from procedure.collection.opening_hours import BadHours
    from procedure.timetable import CannotPlan, NoPlan, NotKnown, Timetable, fitted, noted
    from procedure.timetable.done_steps import NoSuchStep
    from procedure.timetable.from_plans import work_of
    from procedure.timetable.left_to_cool import saves_by_a_night
    from procedure.timetable.longer_hours import saves_a_day
    from procedure.timetable.participants import NoLotOf, nothing_alone
    from procedure.timetable.planned_words import sooner
    from procedure.timetable.planning import is_whole
    from procedure.timetable.refused_words import refusal
    from procedure.timetable.seen_daily import looks_on_closed_days
    from procedure.timetable.solving import Aim
    from procedure.timetable.told_first import shortened
    from procedure.timetable.unsure import estimates
    from procedure.timetable.usual_coolings import sooner_as_usual

    _check_named(arguments)
    form = _form(arguments)
    plans = [plan_of(name) for name in arguments.files]
    _check(plans)
    try:
        asked, taken = what_is_asked(arguments, plans)
        drawn = work_of(plans, asked)
        at_work("looking for the shortest plan")
        much = len(drawn.work.activities) > _MUCH
        found = fitted(drawn.work, at_once=_tell_at_once if much else None)
        supposed = [*taken, *drawn.supposed]
        made = found.made
        if isinstance(made, NoPlan):
            would_do = _would_do(made, plans, asked) if form != "json" else ()
            words = "\n".join(filter(None, (refusal(made), *would_do)))
            return _refuse(made, words, form, arguments)
        idle = nothing_alone(made.work, asked.participants)
        unsure = (*shortened(found), *estimates(made, [key for key, _ in found.shortened]))
        made = noted(made, [*_as_a_draft(plans), *idle, *looks_on_closed_days(made), *unsure])
        if drawn.longer_way and not asked.happened:
            at_work("looking for a longer way")
            other = fitted(work_of(plans, asked, longer=False).work, aim=Aim.LENGTH).made
            if isinstance(other, Timetable) and other.finish < made.finish:
                supposed.append(sooner(made, other))
    except (BadHours, NoSuchStep, NoLotOf, CannotPlan, NotKnown) as reason:
        raise CannotRun(*str(reason).split("\n")) from None
    at_work("writing the timetable")
    _give(
        arguments,
        form,
        made,
        supposed,
        lambda: (
            saves_a_day(made, plans, asked),
            (
                saves_by_a_night(made, drawn.work),
                sooner_as_usual(made, drawn.work, is_whole),
            ),
        ),
    )
    return 0


def _would_do(unfit: NoPlan, plans: list[Judged], asked: Asked) -> tuple[str, str]:
    """What would do where there is no plan, beside what its reason tells."""
    from procedure.timetable.lifted_out import would_lifting_do
    from procedure.timetable.one_long_day import long_enough

    return would_lifting_do(unfit, plans, asked), long_enough(unfit)


def _check_named(arguments: argparse.Namespace) -> None:
    """Raises ``CannotRun`` where an option is given with nothing in it."""
    for said, sentence in (
        (arguments.pots, "Say of which pot there are several, and how many: --pots kettle=2."),
        (arguments.who, "Say whose work is asked for: --who with a name."),
        (arguments.out, "Say where to write it: -o with the name of a file."),
    ):
        if said is not None and not said.strip():
            raise CannotRun(sentence)


def _tell_at_once(first: Timetable) -> None:
    """Say when a first plan would be over, while a better one is looked for."""
    from procedure.timetable.planned_words import moment_in_words

    when = moment_in_words(first.work, first.finish)
    print(f"A first plan is over at {when}; looking for the best one.", file=sys.stderr, flush=True)


def _check(plans: list[Judged]) -> None:
    """Raises ``CannotRun`` where the text itself is in doubt, with the lines that are."""
    from procedure.timetable.drafts import hindrances

    wrong = hindrances(plans)
    if wrong:
        more = len(wrong) - _MOST_ERRORS
        raise CannotRun(
            "There is no timetable until this is put right, for its times would be guessed:",
            *(f"- {each}" for each in wrong[:_MOST_ERRORS]),
            *((f"- and {more} more; “vatwright check” lists them.",) if more > 0 else ()),
        )


def _as_a_draft(plans: list[Judged]) -> list[str]:
    from procedure.timetable.drafts import drafted

    wrong = drafted(plans)
    if not wrong:
        return []
    said = ["This is a draft: “vatwright check” finds errors that have to be put right first."]
    said += wrong[:_MOST_ERRORS]
    more = len(wrong) - _MOST_ERRORS
    return said + ([f"There are {more} more."] if more > 0 else [])


def _refuse(unfit: object, words: str, form: str, arguments: argparse.Namespace) -> int:
    from procedure.timetable import NoPlan, as_json

    assert isinstance(unfit, NoPlan)
    if form == "json":
        _out(arguments, as_json.refused(unfit).encode())
    else:
        print(words, file=sys.stderr)
    return 1


def _form(arguments: argparse.Namespace) -> str:
    suffix = Path(arguments.out).suffix.removeprefix(".").lower() if arguments.out else ""
    form = arguments.format or ("text" if suffix in ("", "txt") else suffix)
    if form not in FORMATS:
        known = ", ".join(f".{each}" for each in FORMATS[1:])
        raise CannotRun(f"{arguments.out} does not say what to write; end it in .txt, {known}.")
    if form in ("png", "pdf") and not arguments.out:
        raise CannotRun(f"Say where to write the {form.upper()} with -o.")
    return str(form)


def _give(
    arguments: argparse.Namespace,
    form: str,
    made: Timetable,
    supposed: list[str],
    otherwise: Callable[[], tuple[str, tuple[str, ...]]],
) -> None:
    """Write it; ``otherwise`` finds out what other hours, a night or quicker cooling would save."""
    from procedure.timetable import agenda, as_json, by_day, rows_by_start
    from procedure.timetable.cooled_sooner import gained
    from procedure.timetable.one_persons import of_one

    facts = agenda(made)
    _check_who(arguments, facts)
    if arguments.who and form == "text":
        facts = of_one(facts, arguments.who)
    if form in ("text", "json"):
        gains: dict[str, int] = {}
        hours = ""
        besides: tuple[str, ...] = ()
        try:
            more = _more(made) if made.searched and not facts.who else ()
            if form == "text" and made.searched:
                gains = gained(made)
                hours, besides = otherwise() if more else ("", ())
        except ImportError:
            more = ()
        if form == "text":
            said = by_day.report(facts, more, gains=gains, longer=hours, besides=besides)
        else:
            said = as_json.report(facts, more)
        if form == "text" and supposed and not facts.who:
            said += "\nSupposed\n" + "".join(f"  {each}\n" for each in supposed)
        _out(arguments, said.encode(), form == "text")
    elif form == "csv":
        _out(arguments, rows_by_start.report(facts).encode())
    elif form == "ics":
        from procedure.timetable import icalendar_file

        try:
            written = icalendar_file.calendar(
                facts, datetime.now().astimezone(), arguments.who or ""
            )
        except ValueError as reason:
            raise CannotRun(str(reason)) from None
        _out(arguments, written)
    else:
        from procedure.paper.letters import readable, told
        from procedure.timetable import drawing
        from procedure.timetable.drawn_papers import PlanNotDrawn, finished

        sheets = drawing.draw(facts, arguments.paper)
        try:
            _out(arguments, finished(sheets, form, made.work.title, arguments.paper))
        except PlanNotDrawn as reason:
            raise CannotRun(f"It was not drawn: {reason}.") from None
        other = {} if form == "svg" else readable("".join(sheets))[1]
        if other:
            warn(told(other, on_paper=False))


def _more(made: Timetable) -> tuple[Relief, ...]:
    """What one more of something would save; far from the shortest only what saves days."""
    from procedure.timetable.left_over import left_for_another_day
    from procedure.timetable.planning import shortest_with
    from procedure.timetable.relief import reliefs, saves_days, worth_asking

    if worth_asking(made):
        return reliefs(made, whole=shortest_with)
    return saves_days(made, shortest_with) if left_for_another_day(made) else ()


def _check_who(arguments: argparse.Namespace, facts: Agenda) -> None:
    """Raises ``CannotRun`` where the person asked for has nothing to do in the plan."""
    from procedure.collection.opening import people_of
    from procedure.timetable.participants import nothing_alone, without_a_step

    who = arguments.who
    taught = people_of(arguments.participants) if arguments.participants is not None else ()
    if who is None:
        return
    if who in without_a_step(facts.made.work, taught):
        raise CannotRun(*nothing_alone(facts.made.work, (who,)))
    if who not in facts.people:
        known = f"{'there are' if len(facts.people) > 1 else 'there is'} {listed(facts.people)}"
        raise CannotRun(f"Nobody in this plan is called {who}; {known}.")


def _out(arguments: argparse.Namespace, data: bytes, text: bool = False) -> None:
    if arguments.out:
        write_output(Path(arguments.out), data, arguments.files, arguments.overwrite)
        say(f"Wrote {arguments.out}.")
    elif text:
        sys.stdout.write(data.decode())
    else:
        put_data(data)
