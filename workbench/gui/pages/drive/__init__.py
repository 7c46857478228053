"""The page about the tank of a variable-speed pump."""
