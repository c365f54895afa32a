"""The bench: a brake worked through actions and observations, one state after another."""
