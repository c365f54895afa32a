"""The invented class of `serve --demo`, worked by virtual candidates while the pages open."""
