"""Pictures: plum and grey, told apart by line and hatch as well, the same bytes every time."""
