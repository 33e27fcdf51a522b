"""Use cases, ports and the settings table."""
