"""Virtual people with habits of mind and hands, and honest ways of working, in tables."""
