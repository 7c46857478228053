"""The page "Compare bands"."""
