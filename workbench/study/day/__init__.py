"""A day and a year of a house: what its draws do to pump and tank."""
