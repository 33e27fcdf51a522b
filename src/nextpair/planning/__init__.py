"""Traffic, lines, bag, practice and the sheet."""
