"""What two versions of the program find in the same files, and where they differ, rule by rule.

Run ``python tests/benchmarks/findings.py OTHER FILE...``, where OTHER is the folder of another
version (an unpacked ``git archive`` of an old commit). Each reads the files by itself, as its
own command does.
"""

from __future__ import annotations

import argparse
import json
import os
import subprocess
import sys
from collections import Counter
from pathlib import Path

HERE = Path(__file__).parent.parent.parent

Found = Counter[tuple[str, int, str, str]]


def found_by(tree: Path, files: list[str]) -> Found:
    """The findings of a version: file, line, rule and level, each as often as it is found."""
    # -P: else Python takes the version whose folder one is in, whichever is asked for.
    command = [sys.executable, "-P", "-m", "procedure", "check", "--format", "json"]
    done = subprocess.run(
        [*command, "--at-least", "note", *files],
        env={**os.environ, "PYTHONPATH": str(tree)},
        capture_output=True,
        check=False,
    )
    if done.returncode not in (0, 1):
        raise SystemExit(f"{tree} could not run: {done.stderr.decode()}")
    findings = json.loads(done.stdout)["findings"]
    return Counter((one["file"], one["line"], one["rule"], one["level"]) for one in findings)


def main() -> None:
    """Compare and print."""
    parser = argparse.ArgumentParser(description=main.__doc__)
    parser.add_argument("other", type=Path, help="the folder of the other version")
    parser.add_argument("files", nargs="+", help="procedures, or folders of them")
    options = parser.parse_args()
    before = found_by(options.other.resolve(), options.files)
    after = found_by(HERE, options.files)
    alike = before & after
    print(f"{alike.total()} findings are the same.")
    for title, found in (("only there", before - alike), ("only here", after - alike)):
        print(f"\n{title}: {found.total()}")
        for rule, level in sorted({one[2:] for one in found}):
            places = sorted(f"{one[0]}:{one[1]}" for one in found if one[2:] == (rule, level))
            print(f"  {len(places):4} {level:8} {rule}: {', '.join(places[:4])}")


if __name__ == "__main__":
    main()
