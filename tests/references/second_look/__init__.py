"""A second computation of what a school needs on a day: plain, slow, and without a line of the product in it.

It reads the same plan files and follows the words of the design, so that two people's reading of them can be held
against each other. Nothing here imports ``checklists``. A plan, a class's place, a visit are plain tables as they stand
in the files; numbers are fractions, so that no rounding hides a difference.
"""
