"""What the commands print: one module a command, text for people and plain data for programs."""
