"""Qt models: results as tables, with no arithmetic of their own."""
