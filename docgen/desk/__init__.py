"""A case in the browser of this machine, for those who write no TOML: the same files, one key at a time."""
