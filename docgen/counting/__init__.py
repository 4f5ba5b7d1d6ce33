"""A page that counts a trial or a lesson on a phone: one file, without a network, with ids and no name."""
