"""The page that makes the estimate, and what was sent of it."""
