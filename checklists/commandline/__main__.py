"""`python -m checklists.commandline`: every command without the screens."""

import sys

from checklists.commandline import parse, run_alone

sys.exit(run_alone(parse(sys.argv[1:])))
