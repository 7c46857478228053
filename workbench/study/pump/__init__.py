"""Whether the pump reaches cut-out, and what it delivers there."""
