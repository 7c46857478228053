"""The page "Exercises"."""
