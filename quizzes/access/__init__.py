"""Who may see and do what: one table of role and thing, and the signing in that gives a role."""
