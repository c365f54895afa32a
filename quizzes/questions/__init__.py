"""The bank of questions: asked, drawn, marked, checked."""
