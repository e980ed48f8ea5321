"""The sewing card as light: a step laid out for the person who sews, and which one was shown last."""
