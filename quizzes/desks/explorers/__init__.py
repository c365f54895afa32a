"""Explorers of the lessons: a few sliders, the numbers that follow from them, and a figure."""
