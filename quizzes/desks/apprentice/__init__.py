"""The apprentice's pages: lessons' benches and questions, practice, assessment."""
