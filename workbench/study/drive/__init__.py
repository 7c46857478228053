"""The small tank of a variable-speed pump, against what its maker states."""
