"""Scene and camera to pixels."""
