"""``python -m procedure`` is the ``vatwright`` command."""

import sys

from procedure.command.main import main

sys.exit(main())
