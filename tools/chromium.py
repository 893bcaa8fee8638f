"""See to it that the browser tests find Chromium; where that cannot be done, say what to install.

Run by `make test`. Debian's own package is used, through apt, as root or with a sudo that asks nothing. Elsewhere
the browser tests are left out with a word (tests/conftest.py), except in CI, where a missing browser is an error.
"""

import os
import shutil
import subprocess
import sys

NAMES = ("chromium", "chromium-browser", "google-chrome", "google-chrome-stable")
WORDS = (
    "The browser tests need Chromium, and none of {names} is on the PATH.\n"
    "  Debian:      apt install chromium\n"
    "  Fedora:      dnf install chromium\n"
    "  Arch:        pacman -S chromium\n"
    "  macOS:       install Chromium or Chrome, and put a link named chromium to its program on the PATH\n"
    "The other tests run without it."
)


def find_chromium() -> str | None:
    """The browser's executable, by its usual names, or None."""
    return next((found for name in NAMES if (found := shutil.which(name))), None)


def apt_prefix() -> list[str] | None:
    """How apt-get may be called here without a question: as root, through sudo, or not at all (None)."""
    if shutil.which("apt-get") is None:
        return None
    if os.geteuid() == 0:
        return []
    if shutil.which("sudo") is None:
        return None
    allowed = subprocess.run(["sudo", "-n", "true"], capture_output=True, check=False).returncode == 0
    return ["sudo", "-n"] if allowed else None


def install(prefix: list[str]) -> bool:
    """Install Debian's Chromium; False where apt could not."""
    environment = ["env", "DEBIAN_FRONTEND=noninteractive"]
    for arguments in (["update", "-qq"], ["install", "-y", "-qq", "--no-install-recommends", "chromium"]):
        command = [*prefix, *environment, "apt-get", *arguments]
        print("$", " ".join(command), flush=True)
        done = subprocess.run(command, stdin=subprocess.DEVNULL, stdout=subprocess.DEVNULL, check=False)
        if done.returncode != 0:
            return False
    return True


def main() -> int:
    """Return 0 where the tests can go on, 1 in CI without a browser."""
    if find_chromium() is not None:
        return 0
    prefix = apt_prefix()
    if prefix is not None and install(prefix) and find_chromium() is not None:
        return 0
    print(WORDS.format(names=", ".join(NAMES)), file=sys.stderr)
    return 1 if os.environ.get("CI") else 0


if __name__ == "__main__":
    sys.exit(main())
