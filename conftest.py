"""For every run of pytest in this checkout: where compiled kernels are kept, and what is no test.

Kernels go to build/kernels of this checkout, so that a test never meets another checkout's code. It must be said
before anything of the package is imported.
"""

import os
from pathlib import Path

os.environ.setdefault("OVENTIDE_CACHE", str(Path(__file__).resolve().parent / "build" / "kernels"))

# Alembic runs this file itself; it cannot be imported without a migration going on.
collect_ignore_glob = ["src/oventide/journal/migrations/*"]
