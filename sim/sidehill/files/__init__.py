"""Files that people write and read: quantities with units, checked tables, whole-file writing."""
