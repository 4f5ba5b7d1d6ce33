"""`python -m docgen` is the command."""

from docgen.cli import app

app()
