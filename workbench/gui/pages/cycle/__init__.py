"""The page "Cycle": how long the pump runs and rests, and how often it starts."""
