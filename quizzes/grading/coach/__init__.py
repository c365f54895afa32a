"""The coach beside the practice bench: hints from the work so far and what the person knows."""
