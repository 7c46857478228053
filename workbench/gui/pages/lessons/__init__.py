"""Lessons: a text, a live tank of their own, one thing to try and one question on each screen."""
