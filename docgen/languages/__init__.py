"""A language of the pages for family and aides: every text for a translator, and the pages made of what comes back."""
