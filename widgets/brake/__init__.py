"""The model of the brake: hidden condition, what it does, its draws, numbers refused."""
