"""The page "Our firm": letterhead, logo, clauses, and what of it is kept for new jobs."""
