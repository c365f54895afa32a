"""Figures, one function each."""
