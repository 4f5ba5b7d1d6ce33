"""The criteria, one module each, found by file name."""
