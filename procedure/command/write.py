"""``vatwright write``: a page in the browser to write procedures in, on one's own machine."""

from __future__ import annotations

import argparse
import os
from pathlib import Path

from procedure.command.main import CannotRun
from procedure.command.printing import say


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """The arguments of ``write``."""
    add = parser.add_argument
    add("place", nargs="?", default=".", metavar="FILE|FOLDER", help="what to open (this folder)")
    add("--static", metavar="FOLDER", help="write the page as plain files for any web host instead")
    add("--parts", metavar="FOLDER", help="npm's packages for --static, instead of asking npm")
    add("--no-browser", action="store_true", help="only print the address of the page")


def run(arguments: argparse.Namespace) -> int:
    """Serve the page until Ctrl-C; 2 where it cannot begin."""
    from procedure.page.serving import BUILT, Serving, address, server

    if arguments.static:
        return _static(Path(arguments.static), Path(arguments.parts) if arguments.parts else None)
    place = Path(arguments.place)
    if place.is_dir():
        folder, first = place, ""
    elif place.suffix == ".dye" and place.parent.is_dir():
        folder, first = place.parent, place.name
    else:
        raise CannotRun(f"{place} is neither a folder nor a procedure (a file in .dye).")
    if not (BUILT / "page.js").is_file():
        raise CannotRun("the page is not part of this installation; install the program again.")
    serving = Serving(folder, first)
    try:
        made = server(serving)
    except OSError as reason:
        raise CannotRun(f"no page can be served: {(reason.strerror or '').lower()}.") from None
    where = address(made, serving)
    print(f"Write at {where}\nIt reads and writes only below {serving.folder.root}.")
    print("Press Ctrl-C here to end it; what you wrote is kept.", flush=True)
    os.chdir(serving.folder.root)  # papers and findings name the files as they are called there
    serving.aside.begin()
    if not arguments.no_browser:
        import webbrowser

        webbrowser.open(where)
    try:
        made.serve_forever()
    finally:
        made.server_close()
        serving.aside.close()
    return 0


def _static(folder: Path, parts: Path | None) -> int:
    from procedure.page.standing import NotStanding, write

    if folder.exists() and not folder.is_dir():
        raise CannotRun(f"{folder} is a file; name a folder for the page.")
    try:
        made = write(folder, parts)
    except NotStanding as reason:
        raise CannotRun(str(reason)) from None
    except OSError as reason:
        raise CannotRun(f"the page was not written: {(reason.strerror or '').lower()}.") from None
    size = f"{made.size / 1_000_000:.1f} MB"
    say(f"Wrote the page to {folder}: {size}. Any host of files can serve it.")
    if made.said:
        say(made.said)
    return 0
