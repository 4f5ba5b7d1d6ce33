"""A WordprocessingML package written from code: no template file, no theme, nothing of the machine."""
