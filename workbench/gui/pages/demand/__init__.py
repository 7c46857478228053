"""The page about peak demand."""
