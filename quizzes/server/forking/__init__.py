"""Kernels by fork: one parent has imported everything; each page's kernel is a copy of it."""
