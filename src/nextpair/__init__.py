"""nextpair plans a ten-pin tournament: every pair of lanes as it will be when you get there."""

__version__ = "0.1.0"
