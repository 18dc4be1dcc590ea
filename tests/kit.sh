# What the steps of tests/run share. Sourced from the root of the checkout, never run by itself.

ROOT=$PWD
WORK=$ROOT/tests/.work
STEP_LIMIT=${STEP_LIMIT:-1800}
TARGET=${CARGO_TARGET_DIR:-$ROOT/target}
set -o pipefail
export PIP_DISABLE_PIP_VERSION_CHECK=1 PYTHONDONTWRITEBYTECODE=1 CARGO_TERM_COLOR=never

# --- counting -------------------------------------------------------------------------------------------------

# Reads what a step said and its exit code; writes "passed failed skipped". It knows the closing lines of cargo test
# and pytest, and the plain "N passed, M failed, K skipped"; a step with none of them counts as one check.
count_results() {
  awk -v code="$1" '
    function number(word,   part) { return match($0, "[0-9]+ " word) ? substr($0, RSTART, RLENGTH) + 0 : 0 }
    /^test result: / { counted = 1; passed += number("passed"); failed += number("failed"); skipped += number("ignored") }
    /^(=+ )?([0-9]+ (passed|failed|skipped|errors?|deselected|xfailed|xpassed|warnings?)(, )?)+ in [0-9.]+s/ {
      counted = 1; passed += number("passed"); failed += number("failed") + number("error"); skipped += number("skipped") }
    /^[0-9]+ passed, [0-9]+ failed(, [0-9]+ skipped)?( \(.*\))?$/ {
      counted = 1; passed += number("passed"); failed += number("failed"); skipped += number("skipped") }
    /^skipped: / { skipped += 1 }
    END {
      if (code != 0 && code != 77 && failed == 0) failed = 1
      if (code == 0 && !counted && skipped == 0) passed = 1
      printf "%d %d %d\n", passed, failed, skipped
    }'
}

# --- checks ---------------------------------------------------------------------------------------------------

declare -i CHECKS_PASSED=0 CHECKS_FAILED=0

# check WORDS COMMAND...: one check of a step; what a failed command said is shown.
check() {
  local words=$1 said=$WORK/log/check.$$
  shift
  mkdir -p "$WORK/log"
  if "$@" >"$said" 2>&1; then
    CHECKS_PASSED+=1
    echo "ok      $words"
  else
    CHECKS_FAILED+=1
    echo "FAILED  $words"
    tail -n 60 "$said" | sed 's/^/        /'
  fi
  rm -f "$said"
}

BROKEN=
# counted COMMAND...: a command that prints counts of its own; they are not counted again as a check.
counted() {
  "$@" || BROKEN=1
}

# Ends a step made of checks and of commands that count for themselves.
close_checks() {
  ((CHECKS_PASSED + CHECKS_FAILED > 0)) && echo "$CHECKS_PASSED passed, $CHECKS_FAILED failed"
  [ -z "$BROKEN" ] && ((CHECKS_FAILED == 0))
  exit
}

# skip WHY: ends a step that cannot run here; tests/run counts it.
skip() {
  echo "skipped: $*"
  exit 77
}

# missing WHY: says that a part of a step cannot run here; tests/run counts it, the step goes on.
missing() {
  echo "skipped: $*"
}

die() {
  echo "$*" >&2
  exit 1
}

# --- what a step needs ----------------------------------------------------------------------------------------

# debian PACKAGE...: installs Debian packages; fails quietly where that is not possible.
debian() {
  [ "$(id -u)" = 0 ] && command -v apt-get >/dev/null || return 1
  local log=$WORK/log/apt
  mkdir -p "$WORK/log"
  if [ ! -e "$WORK/apt-updated" ]; then
    apt-get update >>"$log" 2>&1 && touch "$WORK/apt-updated"
  fi
  DEBIAN_FRONTEND=noninteractive apt-get install -y --no-install-recommends "$@" >>"$log" 2>&1
}

# command_or_debian COMMAND PACKAGE...: has a command on the path, through Debian if need be.
command_or_debian() {
  local name=$1
  shift
  command -v "$name" >/dev/null && return 0
  debian "$@" && command -v "$name" >/dev/null
}

# The first Python of 3.11 or newer on the path.
python_command() {
  local name
  for name in python3 python3.13 python3.12 python3.11; do
    command -v "$name" >/dev/null &&
      "$name" -c 'import sys, venv, ensurepip; sys.exit(sys.version_info < (3, 11))' 2>/dev/null &&
      { command -v "$name"; return 0; }
  done
  return 1
}

# venv NAME [PIP-ARGUMENT...]: makes tests/.work/NAME, installs into it unless just these arguments and files were
# installed before, and sets VENV.
venv() {
  local name=$1 python stamp
  shift
  VENV=$WORK/$name
  python=$(python_command) || skip "no Python of 3.11 or newer with venv"
  stamp=$({ "$python" --version; echo "$VENV"; printf '%s\n' "$@"; cat tests/outside/requirements*.txt; } | sha256sum)
  [ "$(cat "$VENV/stamp" 2>/dev/null)" = "$stamp" ] && return 0
  rm -rf "$VENV"
  "$python" -m venv "$VENV" || die "no virtual environment could be made"
  if (($# > 0)); then
    "$VENV/bin/pip" install --quiet --no-input "$@" >"$WORK/log/pip-$name" 2>&1 ||
      { tail -n 20 "$WORK/log/pip-$name"; die "pip could not install $*"; }
  fi
  printf '%s\n' "$stamp" >"$VENV/stamp"
}

# --- things that run beside a step and end with it ------------------------------------------------------------

CLEANUPS=()
clean_up() {
  local at
  for ((at = ${#CLEANUPS[@]} - 1; at >= 0; at--)); do eval "${CLEANUPS[at]}"; done
}
trap clean_up EXIT
trap 'exit 143' TERM INT

# A throw-away PostgreSQL server on loopback; sets SPRINGWRIGHT_TEST_POSTGRES. Fails where there is none to be had.
start_postgres() {
  local bin folder port as=()
  bin=$(postgres_programs) || { debian postgresql && bin=$(postgres_programs); } || return 1
  folder=$(mktemp -d) port=$(free_port)
  if [ "$(id -u)" = 0 ]; then
    as=(runuser -u postgres --)
    chown postgres "$folder"
  fi
  CLEANUPS+=("rm -rf '$folder'")
  (cd / && "${as[@]}" "$bin/initdb" -A trust -U postgres --no-sync -D "$folder/data") >"$WORK/log/initdb" 2>&1 || return 1
  (cd / && "${as[@]}" "$bin/pg_ctl" -w -D "$folder/data" -l "$folder/log" -o "-p $port -c listen_addresses=127.0.0.1 \
    -c unix_socket_directories=$folder -c fsync=off" start) >>"$WORK/log/initdb" 2>&1 || return 1
  CLEANUPS+=("(cd / && ${as[*]} '$bin/pg_ctl' -m immediate -D '$folder/data' stop) >/dev/null 2>&1")
  export SPRINGWRIGHT_TEST_POSTGRES=postgres://postgres@127.0.0.1:$port/postgres
}

postgres_programs() {
  local folder
  for folder in "$(dirname "$(command -v initdb 2>/dev/null || echo /none/none)")" /usr/lib/postgresql/*/bin; do
    [ -x "$folder/initdb" ] && [ -x "$folder/pg_ctl" ] && { echo "$folder"; return 0; }
  done
  return 1
}

free_port() {
  "$(python_command || echo python3)" -c 'import socket; s = socket.socket(); s.bind(("127.0.0.1", 0)); print(s.getsockname()[1])'
}

# The debug binary, built if it is not.
build_service() {
  cargo build --locked --quiet -p springwright || die "the service does not build"
}

# A service on a free port of loopback; sets SERVICE to its address and SERVICE_PID.
start_service() {
  build_service
  local port
  port=$(free_port)
  SERVICE=http://127.0.0.1:$port
  "$TARGET/debug/springwright" serve --listen "127.0.0.1:$port" "$@" >"$WORK/log/service" 2>&1 &
  SERVICE_PID=$!
  CLEANUPS+=("kill $SERVICE_PID 2>/dev/null; wait $SERVICE_PID 2>/dev/null")
  wait_ready "$SERVICE" || { tail -n 20 "$WORK/log/service"; die "the service was not ready within 10 s"; }
}

# wait_ready ADDRESS: until /readyz answers, 10 s at most.
wait_ready() {
  local _
  for _ in $(seq 100); do
    curl -sf -o /dev/null --max-time 2 "$1/readyz" && return 0
    sleep 0.1
  done
  return 1
}

# --- the Python package ---------------------------------------------------------------------------------------

# Builds the wheel as a user would get it; sets WHEEL.
build_wheel() {
  [ -f python/pyproject.toml ] || die "python/pyproject.toml is not there"
  venv build -r tests/outside/requirements-build.txt
  rm -rf "$WORK/wheels"
  "$VENV/bin/maturin" build --quiet --release --locked --manifest-path python/Cargo.toml \
    --interpreter "$VENV/bin/python" --out "$WORK/wheels" || die "the wheel does not build"
  WHEEL=$(ls "$WORK"/wheels/*.whl)
}

# install_wheel: the wheel and what it asks for, into the virtual environment of the last venv.
install_wheel() {
  "$VENV/bin/pip" install --quiet --no-input --force-reinstall --no-deps "$WHEEL" &&
    "$VENV/bin/pip" install --quiet --no-input "$WHEEL" || die "the wheel does not install"
}
