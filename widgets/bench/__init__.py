"""The bench: a brake worked through actions and observations, and its browser view."""
