"""Parameters as data: value, unit, range, grade and source of every number that a model uses."""
