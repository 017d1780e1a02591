"""A second bookkeeping of a school's days: short, slow, gone through from the start, and nothing of the daybook in it.

``school`` draws a small school by chance, ``needs`` writes out what a day's visits need, ``model`` goes through the
days, ``weeks`` lives them: it says the same to this model and to the book and holds the two side by side.
"""
