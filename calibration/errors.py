"""The error that a person at the table can mend."""


class AlignmentError(Exception):
    """Says what was found, what was needed, and what to do."""
