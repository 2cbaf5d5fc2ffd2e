"""The ``vatwright`` command: finds the module of a command and runs it."""

from __future__ import annotations

import _signal  # type: ignore[import-not-found]  # the other makes its enumerations first
import gc
import os
import sys
from collections.abc import Sequence
from importlib import import_module

from procedure import __version__
from procedure.quantity.record import TYPE_CHECKING

if TYPE_CHECKING:
    import argparse
    from types import ModuleType

# Each command is a module here with add_arguments(parser) and run(arguments).
COMMANDS = {
    "check": "tell what a second person would get wrong",
    "why": "explain a rule of the checker, or list them all",
    "know": "tell what is known of a word of the trade, and where it comes from",
    "new": "begin a procedure from a fibre, a dyestuff and a mordant",
    "draft": "turn a recipe in prose into a draft that you can check line by line",
    "neaten": "lay procedures out in one tidy way, without changing what they say",
    "compare": "tell what differs in meaning between two versions of a procedure",
    "chart": "draw a procedure as a flowchart",
    "weigh": "work out every amount, for the fibre or the plants at hand",
    "timetable": "plan the work by the clock, by the pot, by the ring and by the person",
    "handout": "make a paper, a bench sheet or labels for somebody without the program",
    "lots": "tell what each finished lot of fibre went through",
    "card": "make a shade card with a box and a tag for every sample",
    "book": "make one book, or a site, of all the procedures of a folder",
    "record": "make the form of a batch, fill it in, and tell what was done otherwise",
    "batches": "tell how well methods repeat over many batches, and make the shade book",
    "match": "tell which past batches and published colours come nearest to a colour",
    "write": "write procedures in a page in the browser, with help",
    "completion": "make your terminal finish the words that you begin to type",
    "language-server": "give an editor the same help (Language Server Protocol)",
}
# Those that talk with the user, or with another program, while they run.
TALKING = ("new", "record", "write", "completion", "language-server")
# They run without collecting circles; a large collection is swept after so many files. A sweep
# looks at all that is remembered of lines, and of 500 procedures it let 980 objects go.
FILES_A_SWEEP = 2_000
# Libraries that have something to do when a process ends: threads, profiles, debuggers.
WANT_AN_END = frozenset(("threading", "profile", "bdb"))
HELP = ("-h", "--help", "help")
CANNOT_RUN = 2
INTERRUPTED = 130  # as a shell says it of what Ctrl-C ended
HELP_WIDTH = 88


class CannotRun(Exception):
    """What the user must put right first: plain sentences, one on a line (mostly there is one)."""

    def __init__(self, *sentences: str) -> None:
        super().__init__("\n".join(sentences))
        self.sentences = sentences


def main(arguments: Sequence[str] | None = None) -> int:
    """Run the command line; gives the exit status (0 well, 1 findings, 2 could not run)."""
    given = list(sys.argv[1:] if arguments is None else arguments)
    if arguments is None and "_ARGCOMPLETE" in os.environ:  # a shell asks for the ends of a word
        import_module("procedure.command.completion").complete()
    together = None
    if arguments is None:
        gc.disable()  # a command makes few circles, and ends soon: looking for them costs more
        if given[:1] == ["check"]:
            from procedure.command.imported_together import Together

            together = Together()
            sys.meta_path.insert(0, together)
    try:
        # Not at once, but in order; nor at all, where a shell has it run in the background.
        if arguments is None and _signal.getsignal(_signal.SIGINT) != _signal.SIG_IGN:
            _signal.signal(_signal.SIGINT, _signal.default_int_handler)
            sys.unraisablehook = _ended
        from procedure.command.printing import OutputLost, let_go, shown

        try:
            with shown():
                status = _told(given)
            if together is not None:
                together.keep()
            if arguments is None:
                gc.freeze()  # nor need they be looked for on the way out
            return status
        except OutputLost as reason:
            let_go()
            _tell_of_it(str(reason))
            return CANNOT_RUN
    except KeyboardInterrupt:
        return INTERRUPTED
    except (EOFError, TypeError, ValueError) as reason:  # as Python says it of code cut short
        from procedure.command.cut_short import sentence

        said = sentence(reason)
        if said is None:
            raise
        _tell_of_it(said)
        return CANNOT_RUN


def _ended(lost: sys.UnraisableHookArgs) -> None:
    """End at a Ctrl-C that came where Python could only tell of it and go on.

    So it is in what is called when something is let go of, as at the end of each import.
    """
    if lost.exc_type is KeyboardInterrupt:
        _signal.signal(_signal.SIGINT, _signal.SIG_DFL)
        _signal.raise_signal(_signal.SIGINT)
    else:
        sys.__unraisablehook__(lost)


def _tell_of_it(lost: str) -> None:
    """Say on standard error that what was to be printed is lost, unless that cannot be either."""
    try:
        if lost:
            print(f"vatwright: {lost}", file=sys.stderr)
    except (OSError, ValueError):
        return


def from_a_shell() -> None:
    """Run the command line, and end the process as soon as all is sent.

    To take everything apart first, object by object, takes a thirtieth of a check. Where there
    are threads or helpers, or something could not be sent, the process ends in the usual way, and
    so where it is watched: a profile is written by whoever began it.
    """
    status = main()
    if _signal.getsignal(_signal.SIGINT) is _signal.default_int_handler:
        _signal.signal(_signal.SIGINT, _signal.SIG_DFL)  # nothing is left that could tidy up
    if sys.getprofile() is None and WANT_AN_END.isdisjoint(sys.modules):
        import atexit

        atexit._run_exitfuncs()
        try:
            for stream in (sys.stdout, sys.stderr):
                if stream is not None:
                    stream.flush()
        except (OSError, ValueError):
            sys.exit(status)
        os._exit(status)
    sys.exit(status)


def _told(given: list[str]) -> int:
    """Run, and say in a sentence what cannot be done."""
    try:
        return _run(given)
    except CannotRun as reason:
        return refused(*reason.sentences)
    except Exception as reason:
        from procedure.collection.writing import NotWritten

        if isinstance(reason, NotWritten):
            return refused(str(reason))
        if isinstance(reason, OSError) and reason.filename is not None:
            # A folder that may not be searched, say, wherever it was come upon.
            named = os.fsdecode(reason.filename)[:400]
            return refused(f"{named} cannot be used: {(reason.strerror or str(reason)).lower()}.")
        if isinstance(reason, ModuleNotFoundError):  # half installed, or run by another Python
            named = reason.name or str(reason)
            return refused(f"{named} is not installed for this Python; install Vatwright again.")
        raise


def refused(*sentences: str) -> int:
    """Say on standard error what cannot be done, a line for each sentence; gives the status 2."""
    from procedure.wording.visible import one_line

    print("vatwright: " + "\n".join(map(one_line, sentences)), file=sys.stderr)
    return CANNOT_RUN


def _run(given: list[str]) -> int:
    if len(given) > 1 and given[0] in HELP and given[1] in COMMANDS:
        given = [given[1], "--help"]  # “help check”, as people say it
    if not given or given[0] in HELP:
        print(_overview())
        return 0 if given else CANNOT_RUN
    if given[0] == "--version":
        print(f"vatwright {__version__}")
        return 0
    name, rest = given[0], given[1:]
    if name not in COMMANDS:
        from procedure.vocabulary import near

        meant = near(name, list(COMMANDS))
        hint = f" Did you mean “{meant}”?" if meant else " “vatwright help” lists the commands."
        if name.endswith(".dye"):
            hint = f" “vatwright check {name[:40]}” reads a procedure; “vatwright help” lists more."
        raise CannotRun(f"there is no command “{name[:40]}”.{hint}")
    module = import_module(f"procedure.command.{name.replace('-', '_')}")
    asked = getattr(module, "asked_plainly", _not_plain)(rest) or _parsed(module, name, rest)
    if name in TALKING or "-" in rest:
        status: int = module.run(asked)
    else:
        from procedure.command.progress import telling

        with telling(getattr(sys.stderr, "below", sys.stderr), "reading"):
            status = module.run(asked)
    sys.stdout.flush()
    return status


def _not_plain(_given: list[str]) -> None:
    """What a command says that leaves all its arguments to argparse."""


def _parsed(module: ModuleType, name: str, given: list[str]) -> argparse.Namespace:
    """What the arguments of a command ask for; prints its help and ends where that is asked."""
    import argparse

    class Parser(argparse.ArgumentParser):
        """Says what is wrong with the arguments in one line."""

        def error(self, message: str):  # type: ignore[no-untyped-def]
            from procedure.command.wrongly_asked import in_our_words

            raise CannotRun(f"{in_our_words(message)} “{self.prog} --help” shows how.")

    parser = Parser(
        prog=f"vatwright {name}",
        description=COMMANDS[name].capitalize() + ".",
        # Argparse makes one for each argument; told the width, it need not look for the terminal.
        formatter_class=lambda prog: argparse.HelpFormatter(prog, width=HELP_WIDTH),
        add_help=False,
    )
    parser.add_argument("-h", "--help", action="help", help="show this page")
    module.add_arguments(parser)
    if not {"-h", "--help"}.isdisjoint(given):
        from procedure.command.helping import helped

        helped(parser, name)
    return parser.parse_args(getattr(module, "as_spoken", list)(given))


def _overview() -> str:
    width = max(map(len, COMMANDS))
    lines = [f"  {name:<{width}}  {said}" for name, said in COMMANDS.items()]
    return "\n".join(
        [
            "Vatwright reads dye procedures and tells what a second person would get wrong.",
            "",
            "usage: vatwright COMMAND ...",
            "",
            *lines,
            "",
            "COMMAND is one of the words above. “vatwright COMMAND --help” tells what it does and",
            "ends with two examples. A procedure is a file whose name ends in .dye.",
            "",
            "for example:",
            "  vatwright new -o first.dye",
            "      asks a few questions and writes your first procedure",
            "  vatwright check first.dye",
            "      tells what a second person would get wrong with it",
        ]
    )
