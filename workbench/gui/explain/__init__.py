"""Ways from a figure to its working, and the window that shows it."""
