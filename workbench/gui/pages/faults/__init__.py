"""The page "Faults": a fault set loose, what could be read, and what tells it from others."""
