"""The job's tank as a system in motion."""
