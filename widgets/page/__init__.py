"""What every part of a page stands on: the border to the kernel, joined scripts, style, prompts."""
