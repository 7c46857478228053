"""The page "Price list"."""
