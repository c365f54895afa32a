"""A sitting in a class: its allowed minutes, and its end when they are up."""
