"""Misconceptions that show in what a person thought or did."""
