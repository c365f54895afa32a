"""The server that carries the pages: kernels, navigation, refusals, its log."""

import sys

# Imported by jsonschema for the format `iri`, which no schema here has. At its import it builds
# thirteen grammars, which takes as long as all the rest of a server's start together.
sys.modules.setdefault("rfc3987_syntax", None)  # type: ignore[arg-type]  # None: not to be had
