"""The firm's own: whether its logo can be printed, and what published rules ask of its clauses."""
