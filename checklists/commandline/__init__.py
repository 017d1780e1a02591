"""The command line: the same as the screens, for paper and scripts. Knows the clock; imports no Textual.

``parse`` turns arguments into a ``Request``; ``run`` does what it asks and gives the exit status: 0 fine, 1 something
critical is open, 2 a file or what was typed is not right.
"""

from checklists.commandline.arguments import parse
from checklists.commandline.request import Request
from checklists.commandline.run import run

__all__ = ["Request", "parse", "run"]
