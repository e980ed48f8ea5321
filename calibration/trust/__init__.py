"""Whether the light still falls where it should: ruler, loop, drift, surface."""
