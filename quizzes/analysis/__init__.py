"""Statistics over plain tables: items, agreement, mastery."""
