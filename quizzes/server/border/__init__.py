"""What comes from outside is looked at before anything else is done with it."""
