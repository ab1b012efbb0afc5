"""Pictures of a sweep: which suit it, what they show, and the drawing."""
