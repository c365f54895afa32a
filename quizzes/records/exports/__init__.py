"""What leaves the house in open formats: tables, learning statements, calendars."""
