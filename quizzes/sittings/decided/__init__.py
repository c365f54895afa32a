"""From a person's decision to a competency record, and everything that leaves the house with it."""
