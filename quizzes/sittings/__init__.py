"""One person's work through one form: begin, run, export, replay, what now. No widgets."""
