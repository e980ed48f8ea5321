"""The whole job from one window: its steps, what is done of each, and where it was left."""
