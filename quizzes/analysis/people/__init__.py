"""What results say of a person: mastery, sequential tests, retention, practice to come."""
