"""Tables that move the living cutaway: the model worked out ahead, for a page to interpolate."""
