"""Where a bowler stands in a field: what everybody is believed to score, and who goes on."""
