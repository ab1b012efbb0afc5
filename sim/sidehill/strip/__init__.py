"""What one outfit does at every value of one quantity, and the limits read off it."""
