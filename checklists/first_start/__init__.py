"""The first start: from an empty folder to a plan, one question after another, each with an answer that Enter takes.

``going`` is what a screen needs: the next question, taking an answer, going back. ``asking`` says what is asked in
which order, ``making`` makes the plan. Nothing here knows a clock or a disk; ``files/set_up_file`` keeps the answers.
"""
