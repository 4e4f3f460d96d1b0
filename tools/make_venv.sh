#!/bin/sh
# Make a virtual environment; on a bare Debian the module for it is a package of its own.
set -eu
python=$1
venv=$2
if [ -z "$python" ] || ! "$python" -c 'import sys; sys.exit(sys.version_info < (3, 11))' 2>/dev/null; then
    echo "Leadsman needs Python 3.11 or newer, named python3.11 or python3 (or: make PYTHON=/path/to/python)." >&2
    exit 2
fi
if ! "$python" -c 'import ensurepip, venv' 2>/dev/null; then
    if [ "$(id -u)" = 0 ] && command -v apt-get >/dev/null 2>&1; then
        echo "Installing python3-venv (Debian ships it apart from Python) ..."
        apt-get update -qq
        apt-get install -y -qq python3-venv >/dev/null
    else
        echo "This Python lacks its venv module. Install it once: sudo apt-get install python3-venv" >&2
        exit 2
    fi
fi
exec "$python" -m venv "$venv"
