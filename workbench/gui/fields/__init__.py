"""The controls in which inputs are entered, and the row that shows each with its message."""
