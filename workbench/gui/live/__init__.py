"""The live tank: its picture, the trace and the path beside it, and what sets it in motion."""
