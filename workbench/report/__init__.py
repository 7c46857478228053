"""Papers to hand over: their content first, then typst makes pages of it."""
