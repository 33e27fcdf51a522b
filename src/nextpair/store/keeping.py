"""What every store goes by."""

from __future__ import annotations

RESULTS_KEPT = 3
"""Results of a kind that an event keeps: the one in use and a look back at two before it."""
