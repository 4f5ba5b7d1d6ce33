"""The devices that a clinic can borrow or has: read from its shelf.toml, and held against the findings of a client."""
