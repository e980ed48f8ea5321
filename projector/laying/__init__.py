"""A lay at the table: kept beside its pattern, projected, moved by hand."""
