"""The page "Exercise sheet"."""
