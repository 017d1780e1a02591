"""The first-morning guide: what to do on the first day, in short steps. The text is data, ``first_morning.toml``."""
