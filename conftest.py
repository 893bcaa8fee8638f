"""For every run of pytest in this checkout: where kernels and journals are kept, and what is no test.

Kernels go to build/kernels of this checkout, so that a test never meets another checkout's code. It must be said
before anything of the package is imported. A journal that a test opens by default is never the baker's own.
"""

import os
from pathlib import Path

BUILD = Path(__file__).resolve().parent / "build"
os.environ.setdefault("OVENTIDE_CACHE", str(BUILD / "kernels"))
os.environ["OVENTIDE_HOME"] = str(BUILD / "test-home")

# Alembic runs this file itself; it cannot be imported without a migration going on.
collect_ignore_glob = ["src/oventide/journal/migrations/*"]
