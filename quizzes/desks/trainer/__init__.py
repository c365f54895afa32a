"""The trainer's pages: stage, guide, forms."""
