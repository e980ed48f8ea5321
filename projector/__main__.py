"""`python -m projector` is the command `chalkbeam`."""

import sys

from projector.command_line import main

sys.exit(main())
