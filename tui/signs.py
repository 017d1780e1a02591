"""What the signs of the lists mean, for their help pages: sign and meaning."""

from __future__ import annotations

PACKING_SIGNS = (
    ("!", "critical: without it the lesson cannot start"),
    ("+16", "so many must still be put in"),
    ("look", "enough is in it already: only look at it"),
    ("▁ ▄ █", "how full it is"),
    ("▸", "in hand"),
    ("@", "stands somewhere else"),
    ("5!  12 5!", "5 critical open; 12 open, 5 of them critical"),
    ("× stop", "must not come along: n and a digit say that it is out"),
    ("later", "today has enough of it; later visits, which it is filled for, need more"),
    ("low", "running low"),
    ("?  ~", "asks you something; about so many"),
)
MATTER_SIGNS = (("!", "critical: without it the lesson cannot start"), ("▸", "in hand"), ("▁ ▄ █", "how full it is"))
