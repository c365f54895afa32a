"""From case, log and report to a grade with its reasons; editions of the rules; the outcome."""
