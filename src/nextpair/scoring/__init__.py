"""Ten-pin rules and leaves: exact arithmetic, standard library only."""
