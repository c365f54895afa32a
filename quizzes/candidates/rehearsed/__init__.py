"""What many rehearsed sittings say of a form: the report, and its lines for a person."""
