"""Live cameras: what they see, when it is still, and where they stand."""
