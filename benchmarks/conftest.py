"""Benchmarks: compiled code is kept beside the sources, and the first call, which compiles, is never measured."""

import os
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
os.environ.setdefault("OVENTIDE_CACHE", str(ROOT / "build" / "kernels"))
