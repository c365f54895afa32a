"""The pages of the three people."""
