"""Cameras, projector, loose sheets and lens bow found together, and how far to trust them."""
