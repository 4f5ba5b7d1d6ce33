"""Exit statuses of the commands: 1 speaks of a case alone, never of a fault."""

READY, GAPS, UNREADABLE, STOPPED = 0, 1, 2, 130
