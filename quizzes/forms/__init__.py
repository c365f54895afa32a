"""Forms, what is sat: blueprints, drawing, difficulty, what is offered, drafts and keeping them."""
