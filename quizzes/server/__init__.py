"""The server that carries the pages: kernels, navigation, refusals, its log."""
