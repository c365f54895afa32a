"""What is asked, how it is judged, what is kept."""
