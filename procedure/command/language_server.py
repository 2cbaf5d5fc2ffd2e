"""``vatwright language-server``: the language service for editors (LSP 3.17)."""

from __future__ import annotations

import argparse
import os
import sys
from pathlib import Path

from procedure.command.main import CannotRun
from procedure.command.printing import say


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """The arguments of ``language-server``."""
    parser.add_argument(
        "--tcp",
        metavar="PORT",
        type=int,
        help="listen on this port of 127.0.0.1 instead of standard input and output",
    )
    parser.add_argument(
        "--colours",
        metavar="FOLDER",
        help="write the colours of the language as a VS Code extension into a folder, and end",
    )


def run(arguments: argparse.Namespace) -> int:
    """Serve until the editor ends it; 2 where it cannot begin."""
    if arguments.tcp is not None and not 0 < arguments.tcp < 65536:
        raise CannotRun("A port is a number from 1 to 65535.")
    if arguments.colours:
        from procedure.page.colours_folder import write

        try:
            write(Path(arguments.colours))
        except OSError as reason:
            raise CannotRun(f"{arguments.colours}: {(reason.strerror or '').lower()}.") from None
        say(f"Wrote the extension to {arguments.colours}.")
        return 0
    try:
        from procedure.command.language_server_lsp import server
    except ImportError:
        raise CannotRun(
            "pygls is not installed; “pip install vatwright” brings it, or “pip install pygls”."
        ) from None
    if arguments.tcp is None and sys.stdin is None:
        raise CannotRun("standard input cannot be read: it is closed.")
    made = server()
    try:
        if arguments.tcp is None:
            made.start_io()
        else:
            made.start_tcp("127.0.0.1", arguments.tcp)
    except OSError as reason:
        said = (reason.strerror or str(reason)).lower()
        raise CannotRun(f"port {arguments.tcp} cannot be used: {said}.") from None
    if sys.stdout.closed:  # the editor has closed it; there is nobody to flush to
        sys.stdout = Path(os.devnull).open("w")  # noqa: SIM115
    return 0
