#!/usr/bin/env bash
# Installs Kerfbook on a fresh Debian or Ubuntu and runs it at http://localhost:8000, with demo data where there is
# no workshop yet. Run it again to start again: nothing is lost.
#   bash config/start.sh            with demo data, for looking round
#   bash config/start.sh --empty    with an empty workshop: asks for its name, owner, currency, tax and rates
set -euo pipefail
cd "$(dirname "$0")/.."

as_root() { if [ "$(id -u)" = 0 ]; then "$@"; else sudo "$@"; fi; }

packages="python3 python3-venv ca-certificates libpango-1.0-0 libpangoft2-1.0-0 libharfbuzz-subset0"
missing=$(for p in $packages; do dpkg -s "$p" >/dev/null 2>&1 || echo "$p"; done)
if [ -n "$missing" ]; then
  as_root apt-get update -qq
  # shellcheck disable=SC2086
  as_root env DEBIAN_FRONTEND=noninteractive apt-get install -y -qq --no-install-recommends $missing
fi

test -x .venv/bin/python || python3 -m venv .venv
.venv/bin/python -m pip install -q --disable-pip-version-check -r requirements.txt
.venv/bin/python manage.py migrate --verbosity 0
.venv/bin/python manage.py collectstatic --no-input --verbosity 0
if [ "${1:-}" = "--empty" ]; then
  .venv/bin/python manage.py setup || true
else
  .venv/bin/python manage.py demo
fi
.venv/bin/python manage.py send_outbox --every 20 &
.venv/bin/python manage.py ready_cutting >/dev/null &
trap 'kill %1 %2 2>/dev/null' EXIT
echo "Kerfbook is at http://localhost:${PORT:-8000}"
.venv/bin/gunicorn --config config/server.py config.wsgi
