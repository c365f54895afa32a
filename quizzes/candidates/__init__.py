"""Virtual people: their habits, how they do the job, and rehearsals of whole forms."""
