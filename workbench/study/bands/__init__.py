"""Today's tank and pump at other switch bands."""
