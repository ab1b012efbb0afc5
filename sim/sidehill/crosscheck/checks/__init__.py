"""The table of published values, a module per subject."""
