"""A garment in a photo, as a contour on the table."""
