"""A garment's outline, found by camera or walked by hand, becomes a half piece with named edges."""
