"""Alignment without a camera: crosses of light moved on to marks."""
