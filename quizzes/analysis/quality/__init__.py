"""What results say of the assessment: cut scores, consistency, accuracy, equal forms."""
