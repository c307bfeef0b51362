#!/bin/sh
# Makes .venv with pip in it, also on a Debian whose python3 came without ensurepip.
set -eu
PYTHON=${PYTHON:-python3}

"$PYTHON" - <<'CHECK' || { echo "chauka needs Python 3.11 or newer; this is $("$PYTHON" -V 2>&1). Set PYTHON=/path/to/python3.11" >&2; exit 1; }
import sys
raise SystemExit(sys.version_info < (3, 11))
CHECK

if "$PYTHON" -m venv .venv >/dev/null 2>&1; then exit 0; fi
rm -rf .venv

# Debian splits venv off. As root we may install it.
if [ "$(id -u)" = 0 ] && command -v apt-get >/dev/null; then
    echo "Installing python3-venv from Debian's packages …"
    export DEBIAN_FRONTEND=noninteractive
    apt-get update -qq && apt-get install -y -qq python3-venv >/dev/null
    "$PYTHON" -m venv .venv && exit 0
    rm -rf .venv
fi

# Otherwise a pip that is already there can fill an empty environment.
if "$PYTHON" -m pip --version >/dev/null 2>&1 && "$PYTHON" -m venv --without-pip .venv; then
    "$PYTHON" -m pip --python .venv/bin/python install -q pip && exit 0
fi
rm -rf .venv
echo "This Python can make no environment (ensurepip is missing). Install it once:  sudo apt-get install python3-venv" >&2
exit 1
