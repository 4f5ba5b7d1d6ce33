"""How wide what the commands print is."""

WIDTH = 100  # characters
