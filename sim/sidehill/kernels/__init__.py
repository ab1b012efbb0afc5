"""Everything inside a time step, as compiled functions over flat float64 records."""
