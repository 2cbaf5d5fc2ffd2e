"""What ``--help`` says besides the choices of a command: two worked examples each.

Read only when somebody asks for help. Each example is run by a test, in a folder where the
files that it names are.
"""

from __future__ import annotations

import argparse
from textwrap import fill

from procedure.quantity.record import NamedTuple

WIDTH = 84


class Example(NamedTuple):
    """A line to type, and what comes of it in a dyer's words.

    ``SATURDAY`` in it stands for the date of a Saturday that is still to come (:func:`as_typed`).
    """

    typed: str
    gives: str


EXAMPLES: dict[str, tuple[Example, Example]] = {
    "check": (
        Example("vatwright check weld.dye", "reads your method as a careful dyer would"),
        Example(
            "vatwright check --at-least note recipes",
            "looks at every procedure in the folder “recipes”, small remarks as well",
        ),
    ),
    "why": (
        Example("vatwright why entered-dry", "tells why fibre must go wet into a bath"),
        Example("vatwright why", "lists everything that a check looks for"),
    ),
    "know": (
        Example("vatwright know madder", "tells heats, amounts, colours and dangers of madder"),
        Example(
            "vatwright know --colour yellow --fibre wool", "lists the dyes that give wool a yellow"
        ),
    ),
    "new": (
        Example(
            'vatwright new "Weld yellow" --fibre "wool yarn 100 g" --dye weld -o mine.dye',
            "writes a whole method for one skein; what you leave out is asked for",
        ),
        Example(
            "vatwright new --sections blank -o empty.dye",
            "writes an empty form that says what goes where",
        ),
    ),
    "draft": (
        Example("vatwright draft letter.txt -o walnut.dye", "makes a draft of a friend's letter"),
        Example(
            "vatwright draft letter.txt --side-by-side",
            "shows each sentence beside what was made of it",
        ),
    ),
    "neaten": (
        Example("vatwright neaten weld.dye", "straightens the columns and the order of words"),
        Example(
            "vatwright neaten --preview --units us weld.dye",
            "shows it in ounces, gallons and °F, and changes nothing",
        ),
    ),
    "compare": (
        Example(
            "vatwright compare weld-2024.dye weld.dye",
            "tells what somebody who knows the old method must do otherwise",
        ),
        Example(
            "vatwright compare weld-2024.dye weld.dye -o changes.html",
            "makes a page with both side by side",
        ),
    ),
    "chart": (
        Example("vatwright chart weld.dye", "draws the work as a flowchart, weld.svg"),
        Example(
            "vatwright chart tansy.dye --only moss -o moss.pdf",
            "draws what the skein “moss” goes through, to print",
        ),
    ),
    "weigh": (
        Example(
            "vatwright weigh weld.dye --fibre 600 g", "works every amount out for 600 g of fibre"
        ),
        Example(
            'vatwright weigh weld.dye --have weld="250 g"',
            "tells how much fibre 250 g of weld will dye",
        ),
    ),
    "timetable": (
        Example(
            'vatwright timetable weld.dye --start "SATURDAY 09:00"',
            "tells when to do what on that day",
        ),
        Example(
            "vatwright timetable weld.dye madder.dye --hands Ada,Bo -o weekend.ics",
            "plans two methods for two people, as a file for a calendar",
        ),
    ),
    "handout": (
        Example("vatwright handout weld.dye", "makes a paper for pupils, weld.html"),
        Example(
            "vatwright handout weld.dye --bench -o wall.html",
            "makes a sheet in large type for the wall",
        ),
    ),
    "lots": (
        Example("vatwright lots tansy.dye", "tells what each finished skein went through"),
        Example("vatwright lots tansy.dye --only moss", "tells it of the skein “moss” alone"),
    ),
    "card": (
        Example("vatwright card shades.dye", "makes a card with a box for every sample"),
        Example("vatwright card shades.dye --qr -o shades.md", "the same with a code to scan"),
    ),
    "book": (
        Example("vatwright book recipes -o book", "makes pages of the folder “recipes”"),
        Example(
            'vatwright book recipes --title "Our year" -o book.pdf', "makes one PDF with a title"
        ),
    ),
    "record": (
        Example("vatwright record weld.dye -o weld.batch", "makes the form to fill in at the pot"),
        Example(
            "vatwright record done.batch --check", "tells what was done otherwise than planned"
        ),
    ),
    "batches": (
        Example("vatwright batches records", "tells how well each method repeats"),
        Example("vatwright batches records --used", "tells what was used in each year"),
    ),
    "match": (
        Example('vatwright match "#d8b848" records', "finds your batches nearest to that colour"),
        Example(
            'vatwright match "Lab 70 5 60" records --fibre wool --most 3',
            "the same from a colour meter's reading, the three nearest on wool",
        ),
    ),
    "write": (
        Example("vatwright write", "opens a page in your browser, for this folder"),
        Example("vatwright write weld.dye", "opens it with weld.dye to go on with"),
    ),
    "language-server": (
        Example(
            "vatwright language-server",
            "what an editor starts by itself; DEVELOPERS.md says how to tell it",
        ),
        Example(
            "vatwright language-server --colours colours",
            "writes a folder that gives an editor the colours of the language",
        ),
    ),
    "completion": (
        Example(
            "vatwright completion bash", "prints what makes bash finish words; its help says how"
        ),
        Example("vatwright completion fish", "the same for the shell called fish"),
    ),
}
# Words of computers and of this program that a dyer need not know, and help that uses them.
_EXPLAINED = {
    "LEVEL": "A level: error (cannot be followed as written, or somebody may be hurt), warning "
    "(fibre or colour is likely to be spoiled), note (the reader must guess).",
    "sarif": "For programs: gnu is a line a finding, json plain data, sarif what services that "
    "gather reports read (SARIF 2.1.0).",
    "csv": "For programs: csv is a table for a spreadsheet, json plain data.",
    "standard input": "Standard input: what another command hands on, as in “cat weld.dye | "
    "vatwright COMMAND -”.",
    "dot": "A .dot file is for Graphviz, which draws it with your own settings.",
}


# What a command's exit status means, for scripts.
_STATUS = {
    "record": "Exit status: 0 where all went as planned; with --check 1 where something was done "
    "otherwise, could not be read or can hardly be; 2 where nothing could be done.",
    "batches": "Exit status: 0 where every record was read; 1 where one, or a line of it, could "
    "not be read or can hardly be true; 2 where there are no records, or a file that was named is "
    "none.",
}


def helped(parser: argparse.ArgumentParser, name: str) -> None:
    """Put headings in plain words, explanations and the examples into a parser's help."""
    for group in parser._action_groups:
        title = group.title or ""
        group.title = {
            "positional arguments": "what it works on",
            "options": "what you may ask for",
        }.get(title, title)
    shown = parser.format_help()
    said = [
        fill(sentence.replace("COMMAND", name), WIDTH)
        for word, sentence in _EXPLAINED.items()
        if word in shown.replace("\n", " ").replace("  ", " ")
    ]
    if name in _STATUS:
        said.append(fill(_STATUS[name], WIDTH))
    parser.epilog = "\n\n".join([*said, examples(name)])
    parser.formatter_class = _Plain


def as_typed(example: Example) -> str:
    """The line to type, with a Saturday from one to seven days off where it names one."""
    from datetime import date, timedelta

    today = date.today()
    to_come = today + timedelta(days=(4 - today.weekday()) % 7 + 1)
    return example.typed.replace("SATURDAY", to_come.isoformat())


def examples(name: str) -> str:
    """The two worked examples of a command, as its help prints them."""
    found = EXAMPLES[name]
    lines = [f"  {as_typed(one)}\n{fill(one.gives, WIDTH, **_INDENT)}" for one in found]  # type: ignore[arg-type]
    return "\n".join(["for example:", *lines])


_INDENT = {"initial_indent": "      ", "subsequent_indent": "      "}


class _Plain(argparse.RawDescriptionHelpFormatter):
    """Help in which the lines of the examples stay as they are."""

    def __init__(self, prog: str) -> None:
        super().__init__(prog, width=WIDTH + 4)
