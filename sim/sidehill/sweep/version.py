"""The version of all that makes a row: what is between a case and its record, and what is read."""

from sidehill.physics import ROW, digests, version

ROW_VERSION = version(ROW)
ROW_SOURCES = digests(ROW)  # by which a change is named
