"""Studies: a plan of many cases, and the table of what they came to."""
