"""Exercises without end: made from a seed, asked, marked by the error that was made, and kept."""
