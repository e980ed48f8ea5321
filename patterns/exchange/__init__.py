"""Patterns for and from other programs: SVG, DXF and PDF out of drafted pieces, and outlines in to a pattern file."""
