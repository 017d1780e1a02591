"""The screens: they show what ``checklists`` computes and pass on what the teacher did; nothing is computed here."""
