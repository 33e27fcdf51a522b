"""How well a bowler sees a shot from behind the foul line: one standard deviation each.

All are assumptions. What would test them: the same shots filmed from above, or lanes with sensors,
beside what bowlers wrote down.
"""

from __future__ import annotations

LAYDOWN_ERROR_BOARDS = 0.5
"""Of the board where the ball touches down, at one's own feet."""
TARGET_ERROR_BOARDS = 0.5
"""Of the board that it crosses at the arrows, 15 ft away, with a mark on every fifth board."""
BREAKPOINT_ERROR_BOARDS = 1.0
"""Of the board closest to the gutter, 35 to 45 ft away: marks end there at the latest."""
ENTRY_ERROR_BOARDS = 0.7
"""Of the board at the pins, told by the pins beside it: they stand 5.6 boards apart."""
SPEED_ERROR_MPH = 0.2
"""Of a speed that the house's sensors show."""
