"""A panel's file for tests: three invented judges on four questions, in two rounds."""

from quizzes.questions.bank import the_bank

ITEMS = tuple(the_bank().items)[:4]
# Invented judges and numbers.
FIRST = {"Ada": (0.9, 0.5, 0.7, 0.6), "Ben": (0.7, 0.6, 0.8, 0.5), "Cy": (0.8, 0.7, 0.6, 0.7)}
SECOND = {
    "Ada": (0.85, 0.55, 0.7, 0.6),
    "Ben": (0.75, 0.6, 0.75, 0.55),
    "Cy": (0.8, 0.65, 0.65, 0.65),
}


def panel_text(judges=tuple(FIRST), items=ITEMS, second=SECOND) -> str:
    """Return the file; judges, questions and second round as asked for."""
    lines = ['title = "Invented panel"', "invented = true"]
    for name in judges:
        lines += ["[[judge]]", f'name = "{name}"', f"trainer = {str(name == 'Cy').lower()}"]
        for which, rows in (("first", FIRST), ("second", second)):
            cells = ", ".join(f'"{i}" = {c}' for i, c in zip(items, rows[name], strict=True))
            lines.append(f"{which} = {{ {cells} }}")
    return "\n".join(lines)
