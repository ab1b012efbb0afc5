"""Forward dynamics of the tree: generalised forces -> accelerations -> the next state."""
