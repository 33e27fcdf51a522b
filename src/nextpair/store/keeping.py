"""What every store goes by."""

from __future__ import annotations

from datetime import timedelta

RESULTS_KEPT = 3
"""Results of a kind that an event keeps: the one in use and a look back at two before it."""
BELIEVED_AHEAD = timedelta(hours=1)
"""A result that is dated further ahead of the one that is being kept is of a clock that was wrong:
it makes way, since it would hide every one that follows."""
