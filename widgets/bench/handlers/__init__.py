"""What each action does at the bench, by subject: pure functions of set-up and state."""
