"""The search for the lay that takes least cloth: which fold, which piece where."""
