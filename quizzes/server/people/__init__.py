"""Who is at a browser: joining a class, signing in and out, what the header shows of it."""
