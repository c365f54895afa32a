"""From case, log and report to a grade with its reasons."""
