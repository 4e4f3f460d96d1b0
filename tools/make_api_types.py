"""Write the description of the API and the TypeScript types of the pages from the program."""

from __future__ import annotations

import hashlib
import json
import subprocess
import sys
import tempfile
from pathlib import Path

from leadsman.web.app import make_app

ROOT = Path(__file__).parents[1]
UI = ROOT / "web-ui"
DESCRIPTION = UI / "src/api/openapi.json"
TYPES = UI / "src/api/schema.d.ts"


def description() -> str:
    """The OpenAPI description of the API, as committed."""
    return json.dumps(make_app().openapi(), indent=1, sort_keys=True) + "\n"


def stamp(text: str) -> str:
    """First line of the types: which description they were made from.

    Parameters
    ----------
    text : str
        The description [-].
    """
    digest = hashlib.sha256(text.encode()).hexdigest()[:16]
    return (
        f"// Written by tools/make_api_types.py from description {digest}; do not edit by hand.\n"
    )


def main() -> int:
    """Write both files."""
    sys.path.insert(0, str(ROOT))
    from hatch_build import find_node

    text = description()
    DESCRIPTION.write_text(text, encoding="utf-8")
    node, _ = find_node()
    program = UI / "node_modules/openapi-typescript/bin/cli.js"
    if not program.is_file():
        print("Run npm ci in web-ui first.", file=sys.stderr)
        return 1
    with tempfile.TemporaryDirectory() as folder:
        out = Path(folder) / "schema.d.ts"
        subprocess.run(
            [node, program, DESCRIPTION, "--output", out],
            check=True,
            capture_output=True,
        )
        TYPES.write_text(stamp(text) + out.read_text(encoding="utf-8"), encoding="utf-8")
    return 0


if __name__ == "__main__":
    sys.exit(main())
