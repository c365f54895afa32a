"""One module for each version of the tables, named after it."""
