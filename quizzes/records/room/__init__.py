"""The room in the store: who signs in, classes and their lists, who sits at which browser."""
