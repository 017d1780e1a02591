"""The list of a day: visits to demands, demands to lines by container."""
