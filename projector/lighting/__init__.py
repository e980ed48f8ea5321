"""From inches to pixels: strokes, dashes, letters, and what of the screen has changed."""
