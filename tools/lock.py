"""Write the two lock files: hashes for every platform, and no address of any registry.

Run by `make lock`. Refuses to leave a file behind that names a host.
"""

import re
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
LOCKS = {"requirements.lock": ["build"], "requirements-dev.lock": ["build", "dev"]}
ADDRESS = re.compile(r"https?://|--(extra-)?index-url|--find-links|git\+", re.IGNORECASE)


def compile_lock(name: str, groups: list[str]) -> None:
    """Resolve pyproject.toml with the dependency groups given into the lock file `name`."""
    command = [sys.executable, "-m", "uv", "pip", "compile", "pyproject.toml", "--project", ".", "-q", "-o", name]
    command += ["--universal", "--python-version", "3.11", "--generate-hashes", "--no-annotate"]
    command += ["--no-emit-index-url", "--no-emit-find-links", "--custom-compile-command", "make lock"]
    for group in groups:
        command += ["--group", group]
    subprocess.run(command, cwd=ROOT, check=True)


def main() -> int:
    """Compile every lock and check it for addresses."""
    for name, groups in LOCKS.items():
        compile_lock(name, groups)
        for number, line in enumerate((ROOT / name).read_text("utf-8").splitlines(), start=1):
            if ADDRESS.search(line):
                print(f"{name}:{number} names an address; do not commit it: {line}", file=sys.stderr)
                return 1
    return 0


if __name__ == "__main__":
    sys.exit(main())
