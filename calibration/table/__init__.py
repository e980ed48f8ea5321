"""The table file: set-ups, their history, and the last good copy."""
