"""What people hand in beside their words: photographs."""
