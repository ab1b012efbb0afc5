"""The desk: the whole tool as a page on one's own computer."""
