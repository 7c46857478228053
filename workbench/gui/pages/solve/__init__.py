"""The page that looks for the one quantity that is not known."""
