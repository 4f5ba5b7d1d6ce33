"""The commands: each reads its words, calls one function, prints and chooses the exit status."""
