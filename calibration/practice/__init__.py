"""A simulated table with projector, camera and garments. It shares no code with what it tests."""
