"""The page that makes the counter chart."""
