"""A case -> the same case about nobody, for teaching."""
