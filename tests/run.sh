#!/usr/bin/env bash
# Installs what the tests need on a fresh Debian or Ubuntu and runs everything: lint, types, import rules, and the
# tests on SQLite, PostgreSQL and in a real browser. Usage: bash tests/run.sh [pytest arguments]
set -euo pipefail
export PATH="$PATH:/usr/sbin:/sbin" # where runuser lies
cd "$(dirname "$0")/.."

as_root() { if [ "$(id -u)" = 0 ]; then "$@"; else sudo "$@"; fi; }

packages="python3 python3-venv ca-certificates libpango-1.0-0 libpangoft2-1.0-0 libharfbuzz-subset0 chromium postgresql poppler-utils"
missing=$(for p in $packages; do dpkg -s "$p" >/dev/null 2>&1 || echo "$p"; done)
if [ -n "$missing" ]; then
  as_root apt-get update -qq
  # shellcheck disable=SC2086
  as_root env DEBIAN_FRONTEND=noninteractive apt-get install -y -qq --no-install-recommends $missing
fi

test -x .venv/bin/python || python3 -m venv .venv
.venv/bin/python -m pip install -q --disable-pip-version-check -r tests/requirements.txt
bin=$PWD/.venv/bin
export KERFBOOK_DATA_DIR="${KERFBOOK_DATA_DIR:-$(mktemp -d)}" KERFBOOK_SECRET_KEY=for-tests-only

echo "== lint, types, import rules, migrations"
"$bin/ruff" check .
"$bin/ruff" format --check .
"$bin/mypy" .
PYTHONPATH=. "$bin/lint-imports"
"$bin/python" manage.py makemigrations --check --dry-run

# A PostgreSQL of our own on a socket in a temporary folder: it touches no server that may already run here.
pg_bin=$(dirname "$(find /usr/lib/postgresql -name initdb | sort -V | tail -n 1)")
pg_dir=$(mktemp -d)
pg_user=$(id -un)
as_pg() { if [ "$(id -u)" = 0 ]; then runuser -u postgres -- "$@"; else "$@"; fi; }
if [ "$(id -u)" = 0 ]; then chown postgres "$pg_dir"; pg_user=postgres; fi
as_pg "$pg_bin/initdb" -D "$pg_dir/data" -E UTF8 -A trust -U "$pg_user" >/dev/null
as_pg "$pg_bin/pg_ctl" -D "$pg_dir/data" -w -l "$pg_dir/log" -o "-k $pg_dir -c listen_addresses=''" start >/dev/null
trap 'as_pg "$pg_bin/pg_ctl" -D "$pg_dir/data" -m immediate stop >/dev/null || true; rm -rf "$pg_dir"' EXIT

echo "== tests on PostgreSQL (all but the browser's)"
DATABASE_URL="postgres://$pg_user@${pg_dir//\//%2F}/kerfbook" \
  "$bin/pytest" -q -n 2 -m "not browser" "$@" | sed '$s/^/PostgreSQL: /'

# Apart from the others: the browser's event loop does not get on with their threads in one process.
echo "== tests in the browser"
"$bin/pytest" -q -n 2 -m browser "$@"

echo "== tests on SQLite (all but the browser's, and those that use no database)"
"$bin/pytest" -q -n 2 -m "not browser" --ignore tests/calc "$@"
