"""``python -m tests.fuzz --minutes 30``; what it does is told in ``fuzzing.py`` beside it."""

import sys
from pathlib import Path

# The tests are no package; their folders go on the path, as pytest puts them there.
sys.path.insert(0, str(Path(__file__).parent))

from fuzzing import main

if __name__ == "__main__":
    sys.exit(main())
