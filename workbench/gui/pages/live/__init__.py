"""The page "Live tank"."""
