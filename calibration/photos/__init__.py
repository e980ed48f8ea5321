"""From a photo to the places of corners in it."""
