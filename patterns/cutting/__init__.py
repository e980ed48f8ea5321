"""From the seam line to what is cut and marked: allowances, corners, notches, labels, placements."""
