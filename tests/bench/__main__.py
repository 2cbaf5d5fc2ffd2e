"""``python -m tests.bench`` tries every fault in every sound example and prints the table.

``python -m tests.bench 3`` tries three of a kind in a file at the most.
"""

from __future__ import annotations

import sys
from pathlib import Path

# The tests are no package; their folders go on the path, as pytest puts them there.
sys.path.insert(0, str(Path(__file__).parent))

from measuring import report, run

if __name__ == "__main__":
    most = int(sys.argv[1]) if len(sys.argv) > 1 else None
    print(report(*run(most, most)))
