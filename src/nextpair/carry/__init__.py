"""From impact to strike and leaves, and the chance of making a spare."""
