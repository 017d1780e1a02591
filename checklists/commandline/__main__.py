"""`python -m checklists.commandline`: every command without the screens."""

import sys

from checklists.commandline import parse, run

sys.exit(run(parse(sys.argv[1:])))
