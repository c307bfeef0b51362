#!/bin/sh
# Makes sure that a Chromium is there for the browser tests, or says plainly that they will be skipped.
for name in chromium chromium-browser google-chrome; do
    if command -v "$name" >/dev/null 2>&1; then exit 0; fi
done
if [ "$(id -u)" = 0 ] && command -v apt-get >/dev/null 2>&1; then
    echo "Installing Chromium from Debian's packages for the browser tests …"
    export DEBIAN_FRONTEND=noninteractive
    if apt-get update -qq && apt-get install -y -qq chromium >/dev/null; then exit 0; fi
fi
echo "No Chromium here and no right to install one: the browser tests will be skipped (sudo apt-get install chromium brings it)."
