"""The command line: the same as the screens, for paper and scripts. Knows the clock; imports no Textual.

``parse`` turns arguments into a ``Request``, ``folder_of`` names the folder it is about, and ``run`` does what it asks
and gives the exit status: 0 fine, 1 something critical is open, 2 a file or what was typed is not right.
``run_alone`` is ``run`` for a process that ends with it.
"""

from checklists.commandline.arguments import parse
from checklists.commandline.folder import folder_of
from checklists.commandline.request import Request
from checklists.commandline.run import run, run_alone

__all__ = ["Request", "folder_of", "parse", "run", "run_alone"]
