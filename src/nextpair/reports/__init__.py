"""The sheet as text, page, PDF and pictures."""
