"""What a measure prints, one line each."""

Row = tuple[str, str, str]  # what was measured, its value, what stands beside it
