"""The page about several tanks on one header, and about old plain ones."""
