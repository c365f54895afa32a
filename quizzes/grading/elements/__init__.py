"""Elements of the competency: which a job called for, and how each was shown."""
