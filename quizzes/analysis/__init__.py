"""Statistics over plain tables, and the counts and rates they share."""
