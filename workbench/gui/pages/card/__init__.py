"""The page that makes the setting card."""
