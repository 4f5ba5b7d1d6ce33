"""A spreadsheet as it came -> rows or day totals of a case; what cannot be told is asked, and nothing is guessed."""
