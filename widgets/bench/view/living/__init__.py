"""The living cutaway: the bench's own section, moved by tables that the kernel worked out."""
