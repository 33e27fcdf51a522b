"""Facts and decisions of a tournament: frozen dataclasses, standard library only."""
