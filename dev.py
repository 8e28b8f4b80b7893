#!/usr/bin/env python3
"""Set up Foamwright in a private folder and run it: needs Python 3.8 or newer, nothing else.

    python3 dev.py demo     the main job on the lead example
    python3 dev.py test     every test
    python3 dev.py lint     style, types, import directions, docs
    python3 dev.py run ...  any foamwright command, such as: run check my-plane.toml

Everything lands in .tools/ and .venv/ inside this folder; the system's own Python is left
alone. The first run fetches packages from PyPI; later runs work offline.
"""

from __future__ import annotations

import hashlib
import json
import os
import shutil
import ssl
import subprocess
import sys
import urllib.parse
import urllib.request
from pathlib import Path

ROOT = Path(__file__).resolve().parent
TOOLS = ROOT / ".tools"
UV_VERSION = "0.13.9"
PIP_VERSION = "25.0.1"  # still runs on Python 3.8
SCRIPTS = "Scripts" if os.name == "nt" else "bin"
EXE = ".exe" if os.name == "nt" else ""


def run(*command: str, **options: object) -> None:
    """Run a command in this folder; end with its exit code when it fails."""
    result = subprocess.run(command, cwd=options.pop("cwd", ROOT), check=False, **options)
    if result.returncode:
        sys.exit(result.returncode)


def fetch_pip() -> Path:
    """Fetch pip as one file, for a Python whose ensurepip was left out by its packager."""
    index = "https://pypi.org/simple/pip/"
    context = ssl.create_default_context(cafile=os.environ.get("PIP_CERT"))

    def get(url: str) -> bytes:
        wanted = {"Accept": "application/vnd.pypi.simple.v1+json"}
        request = urllib.request.Request(url, headers=wanted)
        with urllib.request.urlopen(request, context=context, timeout=120) as answer:
            return answer.read()

    files = json.loads(get(index))["files"]
    name = f"pip-{PIP_VERSION}-py3-none-any.whl"
    wheel = next(file for file in files if file["filename"] == name)
    content = get(urllib.parse.urljoin(index, wheel["url"]))
    if hashlib.sha256(content).hexdigest() != wheel["hashes"]["sha256"]:
        sys.exit("dev.py: the download of pip is damaged; try again")
    target = TOOLS / name
    target.write_bytes(content)
    return target


def uv() -> str:
    """Return the path of our own uv, fetched at the first call."""
    program = TOOLS / SCRIPTS / f"uv{EXE}"
    if program.exists():
        return str(program)
    print("Setting up in", TOOLS, "(once) ...", flush=True)
    python = TOOLS / SCRIPTS / f"python{EXE}"
    wanted = f"uv=={UV_VERSION}"
    quiet = ("--quiet", "--disable-pip-version-check", "install", wanted)
    made = subprocess.run(
        [sys.executable, "-m", "venv", str(TOOLS)], check=False, capture_output=True
    )
    if made.returncode == 0:
        run(str(python), "-m", "pip", *quiet)
    else:
        shutil.rmtree(TOOLS, ignore_errors=True)
        run(sys.executable, "-m", "venv", "--without-pip", str(TOOLS))
        run(str(python), f"{fetch_pip()}/pip", *quiet)
    return str(program)


def sync(*options: str) -> None:
    """Bring .venv to what uv.lock says."""
    run(uv(), "sync", "--locked", "--quiet", *options, env=environment())


def environment() -> dict[str, str]:
    """Return the environment without a surrounding virtual environment."""
    return {key: value for key, value in os.environ.items() if key != "VIRTUAL_ENV"}


def tool(name: str, *arguments: str, cwd: Path = ROOT) -> None:
    """Run a program of .venv; it is told how it was called, for the commands that it proposes."""
    try:
        here = os.path.relpath(__file__, cwd)
    except ValueError:  # another drive of Windows
        here = __file__
    here = f'"{here}"' if " " in here else here
    call = f"{'py' if os.name == 'nt' else 'python3'} {here} run"
    environment = dict(os.environ, FOAMWRIGHT_CALL=call)
    run(str(ROOT / ".venv" / SCRIPTS / f"{name}{EXE}"), *arguments, cwd=cwd, env=environment)


def demo(arguments: list[str]) -> None:
    """Do the main job on the lead example."""
    sync("--no-dev", "--inexact")
    tool("foamwright", "demo", *arguments, cwd=Path.cwd())


def foamwright(arguments: list[str]) -> None:
    """Run any foamwright command, in the folder it was called from."""
    sync("--no-dev", "--inexact")
    tool("foamwright", *arguments, cwd=Path.cwd())


def test(arguments: list[str]) -> None:
    """Run every test, on all cores."""
    sync()
    tool("pytest", "-n", "auto", *arguments)


def lint(arguments: list[str]) -> None:
    """Check style, sizes, types, import directions, docs."""
    sync()
    tool("ruff", "check", ".")
    tool("ruff", "format", "--check", ".")
    tool("pyright", *arguments)
    tool("lint-imports", "--no-cache")
    tool("python", "tools/sizes.py")
    tool("python", "tools/docs.py", "--check")


VERBS = {"demo": demo, "run": foamwright, "test": test, "lint": lint}


def main() -> None:
    """Read the verb and do it."""
    if len(sys.argv) < 2 or sys.argv[1] not in VERBS:
        print(__doc__, file=sys.stderr)
        sys.exit(2)
    VERBS[sys.argv[1]](sys.argv[2:])


if __name__ == "__main__":
    main()
