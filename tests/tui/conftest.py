"""Presses a key in a few milliseconds: the pilot's own waiting between keys is cut."""

import textual._wait

textual._wait.SLEEP_GRANULARITY, textual._wait.SLEEP_IDLE = 0.002, 0.0005
