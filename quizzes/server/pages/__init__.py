"""A notebook as a page: its template kept, its kernel's part remade for everybody."""
