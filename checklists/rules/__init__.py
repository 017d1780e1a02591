"""The rules: data that turns the facts of a visit into lines, checks, tasks and cautions."""
